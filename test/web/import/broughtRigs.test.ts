import { expect, test } from 'vitest'
import type { Check } from '../../../src/core/calibration/checkDocument.ts'
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
  const keptChecks: { rigId: string | null; document: unknown }[] = []
  const checks = {
    list: async (rigId?: string) => keptChecks.filter(check => check.rigId === rigId),
    keep: async (fields: { rigId: string | null; document: unknown }) => void keptChecks.push(fields),
  }
  return { kept, keptChecks, backend: { rigs, checks } as unknown as Backend }
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

const checkAt = (at: string): Check => ({
  document: 'tenterhook.check',
  version: 1,
  at,
  appliedN: 9.81,
  appliedStandardN: 0.01,
  indicatedN: 9.79,
  indicatedStandardN: 0.01,
  zeroN: null,
  calibration: '2026-03-02',
  verdict: 'within',
  findings: [],
})

test('checks go to the rig that a log was kept with, each once however often they are brought', async () => {
  const { keptChecks, backend } = home()
  const monday = checkAt('2026-03-09T08:00:00Z')
  const tuesday = checkAt('2026-03-10T08:00:00Z')
  const rigs = new BroughtRigs(backend)
  await rigs.keepChecks({ rig: rigOf('screw', 500), checks: [monday] })
  expect(keptChecks).toEqual([])

  const rigId = await rigs.idOf(rigOf('screw', 500))
  await rigs.keepChecks({ rig: rigOf('lever', 90), checks: [monday] })
  await rigs.keepChecks({ rig: rigOf('screw', 500), checks: [monday] })
  const again = new BroughtRigs(backend)
  await again.idOf(rigOf('screw', 500))
  await again.keepChecks({ rig: rigOf('screw', 500), checks: [monday, tuesday] })
  expect(keptChecks).toEqual(
    [monday, tuesday].map(document => ({ rigId, calibrationId: null, madeAt: document.at, document })),
  )
})
