import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'

/**
 * The samples as they were read: time and force in newton by the calibration, and beside it the force with the zeros
 * of the reading taken off and single wild readings bridged. Nothing is left out; what an adjustment cuts is told by it.
 */
export function cleaned(recording: Recording, reading: Reading | null): Recording {
  if (reading === null || recording.forceUnit === 'counts') return recording
  return {
    ...recording,
    channels: [
      {
        name: 'corrected_force',
        kind: 'other',
        unit: 'N',
        values: correctedForce(recording, reading),
      },
      ...recording.channels,
    ],
  }
}
