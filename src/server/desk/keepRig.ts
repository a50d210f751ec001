import { parseRig, type Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import { sameData } from '../../core/sameData.ts'
import type { DeskStore } from './deskStore.ts'

/**
 * The id of this rig in the store. One that says the same is used again; else it is kept as a new one, with a number
 * behind its name where that is taken: what older recordings were read with stays as it was.
 */
export async function keepRig(store: Pick<DeskStore, 'rigs'>, rig: Rig): Promise<Outcome<string>> {
  const kept = await store.rigs.list()
  const same = kept.find(({ name, document }) => {
    const parsed = parseRig(JSON.stringify(document), name)
    return parsed.ok && sameData(parsed.value, rig)
  })
  if (same) return fine(same.id)
  const taken = new Set(kept.map(({ name }) => name))
  let name = rig.name
  for (let number = 2; taken.has(name); number++) name = `${rig.name} (${number})`
  const created = await store.rigs.create({ name, document: rig })
  return created.ok ? fine(created.value.id) : created
}
