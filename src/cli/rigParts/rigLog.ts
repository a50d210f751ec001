import { applyRig } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { tensionOf } from '../../core/calibration/rigFacts.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { openLogFile } from '../openLogs.ts'
import { openRig } from '../rigFile.ts'

export interface RigLog {
  readonly recording: Recording
  readonly rig: Rig | null
}

/** A log as its rig makes it, or as it stands where no rig is named. */
export async function openRigLog(
  path: string,
  flags: LogFlags & { readonly rig?: string },
): Promise<Outcome<RigLog>> {
  const rig = flags.rig === undefined ? null : await openRig(flags.rig)
  if (rig !== null && !rig.ok) return rig
  const tension = rig === null ? undefined : tensionOf(rig.value)
  const log = await openLogFile(path, {
    log: { ...(tension === undefined ? {} : { tension }), ...logOptionsOf(flags) },
  })
  if (!log.ok || rig === null) return log.ok ? fine({ recording: log.value, rig: null }) : log
  const applied = applyRig(log.value, { ...rig.value, extensionAt: 'specimen' })
  return applied.ok ? fine({ recording: applied.value.recording, rig: rig.value }) : applied
}
