import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import { writtenUnitOf } from '../../core/units/force.ts'

/**
 * The samples as they were read: time and force, in newton by the calibration or else on the log's own scale,
 * and beside it the force with the zeros of the reading taken off and single wild readings bridged. Nothing
 * is left out; what an adjustment cuts is told by it.
 */
export function cleaned(recording: Recording, reading: Reading | null): Recording {
  if (reading === null) return recording
  return {
    ...recording,
    channels: [
      {
        name: 'corrected_force',
        kind: 'other',
        unit: writtenUnitOf(recording.forceUnit),
        values: correctedForce(recording, reading),
      },
      ...recording.channels,
    ],
  }
}
