import type { Adjustment, Specimen, StoredReading } from '../../../server/apiTypes.ts'
import { specimenSource } from '../../engine/specimenSource.ts'
import type { Engine } from '../../engine/types.ts'
import { got, Trouble } from '../trouble.ts'
import { found, laterThan, newId, pageDb, writing } from './db.ts'
import { entriesOf } from './entries.ts'
import { changedSince } from './rules.ts'

/** Newest first. */
export async function historyOf(specimenId: string): Promise<StoredReading[]> {
  return newestFirst(await (await pageDb()).getAllFromIndex('readings', 'specimenId', specimenId))
}

/** The newest of each specimen that has one. */
export async function newestReadings(specimens: readonly Specimen[]): Promise<StoredReading[]> {
  const histories = await Promise.all(specimens.map(specimen => historyOf(specimen.id)))
  return histories.flatMap(([newest]) => (newest ? [newest] : []))
}

const newestFirst = (readings: readonly StoredReading[]): StoredReading[] =>
  [...readings].sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1))

/**
 * Reads a specimen and keeps the reading. `basedOn`: the newest that was seen. It is asked for again when the new one
 * is written, as another window may have kept one meanwhile. Without adjustments given, those of the last are replayed.
 */
export async function keepReading(
  engine: Engine,
  specimenId: string,
  given?: readonly Adjustment[],
  basedOn?: string | null,
): Promise<StoredReading> {
  const specimen = found(await (await pageDb()).get('specimens', specimenId), 'specimen', specimenId)
  const refuseNewer = (newest: StoredReading | undefined) => {
    if (basedOn !== undefined && basedOn !== (newest?.id ?? null))
      throw changedSince(`the reading of “${specimen.name}”`)
  }
  const [last] = await historyOf(specimenId)
  refuseNewer(last)
  const adjustments = given ?? ((last?.adjustments ?? []) as readonly Adjustment[])
  const source = await sourceOf(specimen)
  const look = got(await engine.look({ ...source, adjustments }))
  return writing(['readings'], async change => {
    const readings = change.objectStore('readings')
    const [newest] = newestFirst(await readings.index('specimenId').getAll(specimenId))
    refuseNewer(newest)
    const stored: StoredReading = {
      id: newId(),
      specimenId,
      recordingIds: source.source.recordingIds,
      madeAt: laterThan(newest?.madeAt),
      engine: look.reading.engine,
      adjustments,
      options: look.options,
      reading: look.reading,
    }
    await readings.add(stored)
    return stored
  })
}

/** What a specimen is read from. @throws Trouble where nothing was recorded of it */
async function sourceOf(specimen: Specimen) {
  const db = await pageDb()
  const variant = specimen.variantId === null ? undefined : await db.get('variants', specimen.variantId)
  const parts = {
    study: found(await db.get('studies', specimen.studyId), 'study', specimen.studyId),
    variants: variant ? [variant] : [],
    specimens: [specimen],
    recordings: await entriesOf({ specimenId: specimen.id }),
  }
  const source = specimenSource(parts, specimen.id, await db.getAll('rigs'))
  if (source) return source
  throw new Trouble([
    {
      where: `specimen “${specimen.name}”`,
      what: 'it has no recording yet.',
      cure: 'Drop its log on the page.',
    },
  ])
}
