import { isTyped, typedReading } from '../../../core/reading/typedReading.ts'
import { factsOf } from '../../../logs/index.ts'
import type { Adjustment, Specimen, StoredReading } from '../../../server/apiTypes.ts'
import { specimenSource } from '../../engine/specimenSource.ts'
import type { Engine } from '../../engine/types.ts'
import { got, Trouble } from '../trouble.ts'
import { found, laterThan, newId, pageDb, writing } from './db.ts'
import { entriesOf } from './entries.ts'
import { changedSince } from './rules.ts'

/** Newest first. */
export async function historyOf(specimenId: string): Promise<StoredReading[]> {
  const specimen = await (await pageDb()).get('specimens', specimenId)
  return specimen ? livingHistory(specimen) : []
}

/** A reading of a typed peak lives no longer than what was typed. */
async function livingHistory({ id, typedPeak }: Specimen): Promise<StoredReading[]> {
  const all = newestFirst(await (await pageDb()).getAllFromIndex('readings', 'specimenId', id))
  return all.filter(one => typedPeak != null || one.recordingIds.length > 0 || !isTyped(one.reading))
}

/** The newest of each specimen that has one. */
export async function newestReadings(specimens: readonly Specimen[]): Promise<StoredReading[]> {
  const histories = await Promise.all(specimens.map(livingHistory))
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
  const read = await readNow(engine, specimen, adjustments)
  return writing(['readings'], async change => {
    const readings = change.objectStore('readings')
    const [newest] = newestFirst(await readings.index('specimenId').getAll(specimenId))
    refuseNewer(newest)
    const stored: StoredReading = {
      id: newId(),
      specimenId,
      recordingIds: read.recordingIds,
      madeAt: laterThan(newest?.madeAt),
      engine: read.reading.engine,
      adjustments,
      options: read.options,
      reading: read.reading,
    }
    await readings.add(stored)
    return stored
  })
}

/** What study, variant and specimen say of it. */
export async function factsOfKept(specimen: Specimen) {
  const { study, variants } = await aroundOf(specimen)
  return factsOf(specimen, variants[0] ?? null, study)
}

async function aroundOf({ studyId, variantId }: Specimen) {
  const db = await pageDb()
  const variant = variantId === null ? undefined : await db.get('variants', variantId)
  return {
    study: found(await db.get('studies', studyId), 'study', studyId),
    variants: variant ? [variant] : [],
  }
}

/** How a specimen reads by its recordings, else by the peak that was typed. @throws Trouble where there is neither */
async function readNow(
  engine: Engine,
  specimen: Specimen,
  adjustments: readonly Adjustment[],
): Promise<Pick<StoredReading, 'recordingIds' | 'options' | 'reading'>> {
  const recordings = await entriesOf({ specimenId: specimen.id })
  const parts = { ...(await aroundOf(specimen)), specimens: [specimen], recordings }
  const source = specimenSource(parts, specimen.id, await (await pageDb()).getAll('rigs'))
  if (source) {
    const { reading, options } = got(await engine.look({ ...source, adjustments }))
    return { recordingIds: source.source.recordingIds, reading, options }
  }
  if (specimen.typedPeak)
    return {
      recordingIds: [],
      options: {},
      reading: typedReading(await factsOfKept(specimen), specimen.typedPeak),
    }
  throw new Trouble([
    {
      where: `specimen “${specimen.name}”`,
      what: 'it has no recording yet.',
      cure: 'Drop its log on the page, or type the peak that a scale showed.',
    },
  ])
}
