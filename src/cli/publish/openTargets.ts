import { basename } from 'node:path'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, type Problem } from '../../core/problem.ts'
import { type ReadingOptions, readRecording } from '../../core/reading/readRecording.ts'
import type { SyncTarget } from '../../publish/sync/syncClip.ts'
import type { Io } from '../io.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { openSpecimen } from '../openSpecimen.ts'
import { progress } from '../progress.ts'
import { openRig } from '../rigFile.ts'

export interface TargetFlags extends LogFlags {
  readonly specimen?: true
  readonly rig?: string
  /** How many equal elements each specimen had. */
  readonly elements?: number
}

/** The logs of a clip, read: each a specimen of its own, or all of them one. */
export async function openTargets(
  files: readonly string[],
  flags: TargetFlags,
  io: Io,
): Promise<Outcome<SyncTarget[]>> {
  const rig = flags.rig === undefined ? fine<Rig | null>(null) : await openRig(flags.rig)
  if (!rig.ok) return rig
  const targets: SyncTarget[] = []
  const problems: Problem[] = []
  for (const paths of flags.specimen ? [files] : files.map(file => [file])) {
    const shown = progress(io, `reading ${basename(paths[0] ?? '')}`)
    const opened = await openSpecimen(paths, {
      log: logOptionsOf(flags),
      rig: rig.value,
      onProgress: (_path, done, all) => shown.tell(done, all),
    })
    shown.end()
    if (!opened.ok) problems.push(...opened.problems)
    else {
      const { recording, rigOptions } = opened.value
      targets.push({
        recording,
        reading: readRecording(recording, { ...rigOptions, ...told(flags.elements) }),
      })
    }
  }
  return problems.length > 0 ? { ok: false, problems } : fine(targets)
}

/** What the reading is told of a specimen with so many elements. */
const told = (elements: number | undefined): ReadingOptions =>
  elements === undefined
    ? {}
    : {
        elements,
        specimen: {
          name: null,
          variant: null,
          elements,
          widthMm: null,
          thicknessMm: null,
          lengthMm: null,
          mode: null,
          note: null,
        },
      }
