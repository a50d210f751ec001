import { applyRig } from '../core/calibration/applyRig.ts'
import type { Rig } from '../core/calibration/rig.ts'
import { tensionOf } from '../core/calibration/rigFacts.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { Reading } from '../core/reading/document.ts'
import { type ReadingOptions, readRecording } from '../core/reading/readRecording.ts'
import type { Recording } from '../core/recording.ts'
import { withHash } from '../core/withHash.ts'
import { joinRecordings, type LogOptions } from '../logs/index.ts'
import { type OpenLogOptions, openLogFile, withLogFile } from './openLogs.ts'

export interface ReadSpecimenOptions {
  readonly log: LogOptions
  readonly rig: Rig | null
  readonly onProgress?: (path: string, readBytes: number, totalBytes: number) => void
  /** What the reading is told beside what the rig tells. */
  readonly reading: Omit<ReadingOptions, 'scale' | 'capacityN' | 'strokeMm'>
}

export interface SpecimenRead {
  readonly recording: Recording
  /** With what the rig has to warn of. */
  readonly reading: Reading
}

/**
 * Reads the logs of one specimen as one recording, in newton by the rig's calibration. Every log's problems are told;
 * raw counts without a calibration are one. A single long log is read while its hash is still being made.
 */
export async function readSpecimen(
  paths: readonly string[],
  options: ReadSpecimenOptions,
): Promise<Outcome<SpecimenRead>> {
  const [path] = paths
  if (path === undefined || paths.length > 1) return readTogether(paths, options)
  const log = await withLogFile(path, openOptions(path, options), recording => readOne(recording, options))
  if (!log.ok) return log
  const { made: read, sha256 } = log.value
  if (!read.ok) return read
  const { recording, reading } = read.value
  return fine({
    recording: withHash(recording, sha256),
    reading: { ...reading, recording: withHash(reading.recording, sha256) },
  })
}

async function readTogether(
  paths: readonly string[],
  options: ReadSpecimenOptions,
): Promise<Outcome<SpecimenRead>> {
  const recordings: Recording[] = []
  const problems: Problem[] = []
  for (const path of paths) {
    const opened = await openLogFile(path, openOptions(path, options))
    if (opened.ok) recordings.push(opened.value)
    else problems.push(...opened.problems)
  }
  if (problems.length > 0) return wrong(...problems)
  const joined = joinRecordings(recordings)
  return joined.ok ? readOne(joined.value, options) : joined
}

function openOptions(path: string, { log, rig, onProgress }: ReadSpecimenOptions): OpenLogOptions {
  const tension = rig === null ? undefined : tensionOf(rig)
  return {
    log: { ...(tension === undefined ? {} : { tension }), ...log },
    ...(onProgress ? { onProgress: (done, all) => onProgress(path, done, all) } : {}),
  }
}

function readOne(recording: Recording, { rig, reading: told }: ReadSpecimenOptions): Outcome<SpecimenRead> {
  if (rig === null) {
    if (recording.forceUnit === 'counts') return wrong(countsOnly(recording))
    return fine({ recording, reading: readRecording(recording, told) })
  }
  const applied = applyRig(recording, rig)
  if (!applied.ok) return applied
  const { recording: scaled, scale, warnings } = applied.value
  const reading = readRecording(scaled, {
    ...told,
    scale,
    capacityN: rig.cell.capacityN ?? null,
    strokeMm: rig.strokeMm ?? null,
  })
  return fine({ recording: scaled, reading: { ...reading, warnings: [...reading.warnings, ...warnings] } })
}

const countsOnly = ({ name }: Recording): Problem => ({
  where: name,
  what: 'the log is in raw counts, which only a calibration turns into a force.',
  cure: 'Give the rig with its calibration, --rig rig.json (made by `tenterhook calibrate` or `tenterhook rig quick`), or the unit with --unit if these are no counts.',
})
