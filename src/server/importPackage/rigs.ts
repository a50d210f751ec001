import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { PublishedStudy } from '../../publish/study/study.ts'
import type { Store } from '../../store/index.ts'
import { keepChecks } from '../keepChecks.ts'
import { freeName } from './freeName.ts'

export interface ImportedRigs {
  idOf(rig: Rig): string | null
  /** Names of those that were added. */
  readonly names: readonly string[]
}

/** The rigs of a study: one that is there with the same document is that rig, another of the same name gets a number. */
export async function importRigs(store: Store, study: PublishedStudy): Promise<Outcome<ImportedRigs>> {
  const { parseRig } = await import('../../core/calibration/rig.ts')
  const ids = new Map<string, string>()
  const taken = new Set<string>()
  for (const { id, name, document } of await store.rigs.list()) {
    taken.add(name)
    const rig = parseRig(JSON.stringify(document), name)
    if (rig.ok) ids.set(JSON.stringify(rig.value), id)
  }
  const names: string[] = []
  for (const rig of [study.rig, ...study.specimens.map(specimen => specimen.readWith.rig)]) {
    const key = JSON.stringify(rig)
    if (rig === null || ids.has(key)) continue
    const name = freeName(rig.name, taken)
    const made = await store.rigs.create({ name, document: rig })
    if (!made.ok) return made
    ids.set(key, made.value.id)
    taken.add(name)
    names.push(name)
  }
  const idOf = (rig: Rig): string | null => ids.get(JSON.stringify(rig)) ?? null
  const rigId = study.rig === null ? null : idOf(study.rig)
  if (rigId !== null) {
    const kept = await keepChecks(store, rigId, study.checks)
    if (!kept.ok) return kept
  }
  return fine({ idOf, names })
}
