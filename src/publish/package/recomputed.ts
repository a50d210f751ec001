import { answerIn } from '../../core/answer/answerOf.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { saysPractice } from '../../core/reading/practice.ts'
import { isTyped } from '../../core/reading/typedReading.ts'
import type { Recording } from '../../core/recording.ts'
import { compareGroups } from '../../core/statistics/compare/compareGroups.ts'
import { specimenOfReading } from '../../core/statistics/compare/fromReading.ts'
import { onOneScale } from '../../core/statistics/compare/oneScale.ts'
import { perDimension } from '../../core/statistics/compare/perDimension.ts'
import type { Specimen as Compared } from '../../core/statistics/compare/specimen.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { withHash } from '../../core/withHash.ts'
import { type LogOptions, readLog, readSpecimen, specimenRecording, toldCapacityN } from '../../logs/index.ts'
import type { PublishedLog, PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { PackageFault } from './files.ts'
import type { StudyDocument } from './studyDocument.ts'

/** Opens the bytes of a log as they were received. The journal of a capture needs the capture's own way. */
export type OpenRaw = (bytes: Uint8Array, log: PublishedLog) => Outcome<Recording>

/** Opens logs that are files of text; the page has no other way. */
export const openText: OpenRaw = (bytes, { name, sha256, options, source }) => {
  if (source === 'live')
    return wrong({
      where: name,
      what: 'it is the journal of a capture, which only the command line reads.',
      cure: 'Use `tenterhook verify` or `tenterhook import`.',
    })
  const recording = readLog(bytes, name, options as LogOptions)
  return recording.ok ? fine(withHash(recording.value, sha256)) : recording
}

export interface Recomputed {
  readonly study: PublishedStudy
  /** What could not be made again. */
  readonly problems: readonly Problem[]
}

/**
 * A published study with every recording, reading and the comparison made again, from the raw logs and from
 * what they were made with. What cannot be made is `null` in the study and a problem.
 */
export async function recomputed(
  published: PublishedStudy,
  document: StudyDocument,
  openRaw: OpenRaw,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Recomputed> {
  const problems: Problem[] = []
  const specimens: PublishedSpecimen[] = []
  for (const [i, specimen] of published.specimens.entries()) {
    onProgress(i, published.specimens.length)
    const again = await specimenAgain(specimen, document.specimens[i]?.clean !== null, openRaw)
    if (again.ok) specimens.push(again.value)
    else {
      problems.push(...again.problems)
      specimens.push({ ...specimen, recording: null, reading: null })
    }
  }
  const compared = comparisonAgain(published, specimens, document)
  if (!compared.ok) problems.push(...compared.problems)
  return {
    study: { ...published, specimens, comparison: compared.ok ? compared.value : null },
    problems,
  }
}

async function specimenAgain(
  specimen: PublishedSpecimen,
  hasSamples: boolean,
  openRaw: OpenRaw,
): Promise<Outcome<PublishedSpecimen>> {
  const { name, logs, readWith, reading } = specimen
  // What was read off a scale and typed has no curve to be made again from.
  if (logs.length === 0 && !hasSamples && reading !== null && isTyped(reading)) return fine(specimen)
  if (logs.length === 0 && (hasSamples || reading !== null))
    return wrong({
      where: name,
      what: 'the package holds no raw recording of it, so its figures cannot be made again.',
      cure: 'Make the package from the logs, not from readings.',
    })
  if (logs.length === 0 || (!hasSamples && reading === null)) return fine(specimen)
  const recordings: Recording[] = []
  for (const log of logs) {
    const recording = await openedLog(log, openRaw)
    if (!recording.ok) return recording
    recordings.push(recording.value)
  }
  const parts = {
    ...readWith,
    recordings,
    capacityN: toldCapacityN(logs.map(({ options }) => options)),
    isPractice: reading !== null && saysPractice(reading),
  }
  if (reading === null) {
    const joined = specimenRecording(parts)
    return joined.ok ? fine({ ...specimen, recording: joined.value.recording }) : joined
  }
  const again = readSpecimen({ ...parts, facts: reading.specimen, adjustments: reading.adjustments ?? [] })
  return again.ok
    ? fine({ ...specimen, recording: again.value.recording, reading: again.value.reading })
    : again
}

/** A log of a package, opened from its bytes. */
export async function openedLog(log: PublishedLog, openRaw: OpenRaw): Promise<Outcome<Recording>> {
  try {
    return openRaw(await log.bytes(), log)
  } catch (error) {
    if (error instanceof PackageFault) return wrong(error.problem)
    throw error
  }
}

/** Groups, blocks and order are those that the study names; the values those of the readings made again. */
function comparisonAgain(
  { comparison, quantity }: PublishedStudy,
  specimens: readonly PublishedSpecimen[],
  { comparison: told }: StudyDocument,
): Outcome<Comparison | null> {
  if (comparison === null || told === null) return fine(null)
  const problems: Problem[] = []
  const compared: { readonly of: PublishedSpecimen; readonly specimen: Compared; readonly unit: string }[] =
    []
  for (const { specimen: place, ...facts } of told.specimens) {
    const of = specimens[place]
    if (!of?.reading) {
      problems.push({
        where: `comparison.json, ${facts.name}`,
        what: 'its reading could not be made again, so the comparison cannot be either.',
        cure: 'See what is said of its recording.',
      })
      continue
    }
    compared.push({ of, ...specimenOfReading(of.reading, quantity, facts) })
  }
  if (problems.length > 0) return wrong(...problems)
  const { specimens: plain, unit } = onOneScale(compared)
  const divided =
    told.per === null
      ? fine({ specimens: plain, unit })
      : perDimension(plain, s => compared[plain.indexOf(s)]?.of ?? null, {
          per: told.per,
          doubtMm: told.dimensionDoubtMm,
        })
  if (!divided.ok) return divided
  const again = compareGroups(divided.value.specimens, {
    quantity,
    unit: divided.value.unit,
    shown: told.shown,
    blocksBy: told.blocksBy,
    control: told.control,
    worthShare: told.worthShare,
    seed: told.seed,
    warnings: told.warnings,
  })
  // The next step hangs on what is left of the plan too, of which the recordings say nothing.
  return fine(
    comparison.answer ? { ...again, answer: { ...answerIn(again), next: comparison.answer.next } } : again,
  )
}
