import { expect, test } from 'vitest'
import { parseRig, type Rig } from '../../../src/core/calibration/rig.ts'
import type { Backend } from '../../../src/web/data/backend.ts'
import { BroughtRigs } from '../../../src/web/import/broughtRigs.ts'

const rigOf = (name: string, capacityN: number): Rig => {
  const parsed = parseRig(
    JSON.stringify({ document: 'tenterhook.rig', version: 1, name, cell: { capacityN } }),
    name,
  )
  if (!parsed.ok) throw new Error('no rig')
  return parsed.value
}

/** A home that has one rig already. */
const home = () => {
  const kept = [{ id: 'a', name: 'bench', document: { ...rigOf('bench', 200) } as unknown }]
  const rigs = {
    list: async () => kept,
    create: async (fields: { name: string; document: unknown }) => {
      kept.push({ id: `new ${kept.length}`, ...fields })
      return kept.at(-1)
    },
  }
  return { kept, backend: { rigs } as unknown as Backend }
}

test('a rig that is there with the same document is that rig, and a new one is made once', async () => {
  const { kept, backend } = home()
  const rigs = new BroughtRigs(backend)
  expect(await rigs.idOf(rigOf('bench', 200))).toBe('a')
  expect(kept).toHaveLength(1)
  const id = await rigs.idOf(rigOf('screw', 500))
  expect(await rigs.idOf(rigOf('screw', 500))).toBe(id)
  expect(kept.map(({ name }) => name)).toEqual(['bench', 'screw'])
})

test('another of the same name gets a number: what is there stays as it was', async () => {
  const { kept, backend } = home()
  const before = structuredClone(kept[0])
  const rigs = new BroughtRigs(backend)
  await rigs.idOf(rigOf('bench', 500))
  await rigs.idOf(rigOf('bench', 700))
  expect(kept.map(({ name }) => name)).toEqual(['bench', 'bench (2)', 'bench (3)'])
  expect(kept[0]).toEqual(before)
})
