import { createHash } from 'node:crypto'
import type { Rig } from '../core/calibration/rig.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import type { Recording } from '../core/recording.ts'
import { withHash } from '../core/withHash.ts'
import {
  fewFacts,
  type LogOptions,
  type LogPart,
  MOST_PARTED_BYTES,
  readEach,
  readSpecimen,
  type SpecimenFacts,
  type SpecimenRead,
  startedAtOf,
} from '../logs/index.ts'
import { bytesOfShort, nameOfInput } from './files.ts'
import { openLogFile, withLogFile } from './openLogs.ts'

export interface ReadFilesOptions {
  readonly log: LogOptions
  readonly rig: Rig | null
  readonly onProgress?: (path: string, readBytes: number, totalBytes: number) => void
  /** What is said of the specimen; `null` where nothing is. */
  readonly facts: SpecimenFacts | null
  /** To replay on the reading. */
  readonly adjustments: readonly Adjustment[]
}

/**
 * Opens the logs of one specimen and reads them. Every log's problems are told. A single long log is read while its
 * hash is still being made.
 */
export async function readFiles(
  paths: readonly string[],
  options: ReadFilesOptions,
): Promise<Outcome<SpecimenRead>> {
  const [path] = paths
  if (path === undefined || paths.length > 1) return readTogether(paths, options)
  const log = await withLogFile(path, openOptions(path, options), recording => read([recording], options))
  if (!log.ok) return log
  const { made, sha256 } = log.value
  if (!made.ok) return made
  const { recording, reading } = made.value
  return fine({
    ...made.value,
    recording: withHash(recording, sha256),
    reading: { ...reading, recording: withHash(reading.recording, sha256) },
  })
}

/** A table of a file, read as a specimen of its own. */
export interface ReadTable {
  readonly part: LogPart
  readonly read: Outcome<SpecimenRead>
}

/** The tables of a file, each read for itself; empty where it holds one only, or cannot be had. */
export async function readTables(path: string, options: ReadFilesOptions): Promise<ReadTable[]> {
  const bytes = await bytesOfShort(path, MOST_PARTED_BYTES)
  if (!bytes) return []
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  return readEach(bytes, nameOfInput(path), options.log).map(({ part, recording }) => {
    const facts = part.title === null ? options.facts : fewFacts({ ...options.facts, name: part.title })
    return {
      part,
      read: recording.ok ? read([withHash(recording.value, sha256)], { ...options, facts }) : recording,
    }
  })
}

async function readTogether(
  paths: readonly string[],
  options: ReadFilesOptions,
): Promise<Outcome<SpecimenRead>> {
  const recordings: Recording[] = []
  const problems: Problem[] = []
  for (const path of paths) {
    const opened = await openLogFile(path, openOptions(path, options))
    if (opened.ok) recordings.push(opened.value)
    else problems.push(...opened.problems)
  }
  return problems.length > 0 ? wrong(...problems) : read(recordings, options)
}

const openOptions = (path: string, { log, onProgress }: ReadFilesOptions) => ({
  log,
  ...(onProgress ? { onProgress: (done: number, all: number) => onProgress(path, done, all) } : {}),
})

const read = (
  recordings: readonly Recording[],
  { rig, facts, adjustments }: ReadFilesOptions,
): Outcome<SpecimenRead> =>
  readSpecimen({
    recordings,
    rig,
    day: dayOf(recordings),
    calibration: null,
    capacityN: null,
    isPractice: false,
    facts,
    adjustments,
  })

/** The day of the first log, where its stamps say it. */
export function dayOf([first]: readonly Recording[]): string | null {
  const startedAt = first === undefined ? null : startedAtOf(first)
  return startedAt?.slice(0, 10) ?? null
}
