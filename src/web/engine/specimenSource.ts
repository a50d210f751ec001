import { isPractice } from '../../core/study.ts'
import { dayOfPull, factsOf, rigOfEntries } from '../../logs/index.ts'
import type { Rig } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import type { LookAt } from './types.ts'

/**
 * What the reading of a specimen is made from, as the store makes it: its recordings in order without those set
 * aside, the first rig and the first capacity told among them, the day of the pull where it is known, and what study, variant and specimen say of it. `null`
 * where the specimen has no recording.
 */
export function specimenSource(
  {
    study,
    variants,
    specimens,
    recordings,
  }: Pick<OpenStudy, 'study' | 'variants' | 'specimens' | 'recordings'>,
  specimenId: string,
  rigs: readonly Rig[],
): Pick<LookAt, 'source' | 'facts'> | null {
  const specimen = specimens.find(({ id }) => id === specimenId)
  const entries = recordings
    .filter(entry => entry.specimen?.id === specimenId && entry.setAside === null)
    .sort((a, b) => a.place - b.place)
  if (!specimen || entries.length === 0) return null
  const { rigId, calibration } = rigOfEntries(entries)
  const rig = rigs.find(({ id }) => id === rigId)
  return {
    source: {
      recordingIds: entries.map(entry => entry.id),
      rig: rig ? { name: rig.name, document: rig.document } : null,
      day: dayOfPull(specimen.pulledOn ?? null, entries),
      calibration,
      capacityN: entries.find(entry => entry.capacityN !== null)?.capacityN ?? null,
      isPractice: entries.some(isPractice),
    },
    facts: factsOf(specimen, variants.find(({ id }) => id === specimen.variantId) ?? null, study),
  }
}
