import { applyRig } from '../core/calibration/applyRig.ts'
import type { Warning } from '../core/calibration/document.ts'
import type { Rig } from '../core/calibration/rig.ts'
import { tensionOf } from '../core/calibration/rigFacts.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { ReadingOptions } from '../core/reading/readRecording.ts'
import type { Recording } from '../core/recording.ts'
import { joinRecordings, type LogOptions } from '../logs/index.ts'
import { openLogFile } from './openLogs.ts'

export interface OpenSpecimenOptions {
  readonly log: LogOptions
  readonly rig: Rig | null
  readonly onProgress?: (path: string, readBytes: number, totalBytes: number) => void
}

export interface OpenedSpecimen {
  readonly recording: Recording
  /** What the rig tells the reading; empty where none is named. */
  readonly rigOptions: Pick<ReadingOptions, 'scale' | 'capacityN' | 'strokeMm'>
  /** What the rig has to warn of. */
  readonly warnings: readonly Warning[]
}

/**
 * The logs of one specimen as one recording, in newton by the rig's calibration. Every log's problems are told;
 * raw counts without a calibration are one.
 */
export async function openSpecimen(
  paths: readonly string[],
  { log, rig, onProgress }: OpenSpecimenOptions,
): Promise<Outcome<OpenedSpecimen>> {
  const tension = rig === null ? undefined : tensionOf(rig)
  const options = { ...(tension === undefined ? {} : { tension }), ...log }
  const recordings: Recording[] = []
  const problems: Problem[] = []
  for (const path of paths) {
    const opened = await openLogFile(path, {
      log: options,
      ...(onProgress ? { onProgress: (done, all) => onProgress(path, done, all) } : {}),
    })
    if (opened.ok) recordings.push(opened.value)
    else problems.push(...opened.problems)
  }
  if (problems.length > 0) return wrong(...problems)
  const joined = recordings.length === 1 ? fine(recordings[0]!) : joinRecordings(recordings)
  if (!joined.ok) return joined
  return rig === null ? withoutRig(joined.value) : withRig(joined.value, rig)
}

function withoutRig(recording: Recording): Outcome<OpenedSpecimen> {
  if (recording.forceUnit !== 'counts') return fine({ recording, rigOptions: {}, warnings: [] })
  return wrong({
    where: recording.name,
    what: 'the log is in raw counts, which only a calibration turns into a force.',
    cure: 'Give the rig with its calibration, --rig rig.json (made by `tenterhook calibrate` or `tenterhook rig quick`), or the unit with --unit if these are no counts.',
  })
}

function withRig(recording: Recording, rig: Rig): Outcome<OpenedSpecimen> {
  const applied = applyRig(recording, rig)
  if (!applied.ok) return applied
  return fine({
    recording: applied.value.recording,
    rigOptions: {
      scale: applied.value.scale,
      capacityN: rig.cell.capacityN ?? null,
      strokeMm: rig.strokeMm ?? null,
    },
    warnings: applied.value.warnings,
  })
}
