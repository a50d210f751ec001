import { applyRig } from '../../../core/calibration/applyRig.ts'
import type { Rig } from '../../../core/calibration/rig.ts'
import { type RigStiffness, rigStiffness } from '../../../core/calibration/stiffness.ts'
import { travelOf } from '../../../core/calibration/travel.ts'
import type { Outcome } from '../../../core/problem.ts'
import type { Recording } from '../../../core/recording.ts'

/** Stiffness of the rig from a pull on a bar that hardly gives, as `tenterhook rig stiffness` finds it. */
export function stiffnessOfLog(recording: Recording, rig: Rig): Outcome<RigStiffness> {
  const applied = applyRig(recording, { ...rig, extensionAt: 'specimen' })
  if (!applied.ok) return applied
  const travel = travelOf(applied.value.recording, rig.drive)
  return travel.ok ? rigStiffness(applied.value.recording.forceN, travel.value, recording.name) : travel
}
