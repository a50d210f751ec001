import type { Recording } from '../../../src/core/recording.ts'

/** A recording of forces in newton, evenly sampled, in one piece. */
export const recordingOf = (forceN: Float64Array, rateHz: number, name = 'made'): Recording => ({
  ...{ name, sha256: '', forceN, timeS: forceN.map((_, k) => k / rateHz) },
  ...{ forceUnit: 'N', timeFrom: 'column', channels: [], notes: [], assumptions: [], understood: '' },
  segments: [{ from: 0, to: forceN.length, began: 'start', name, sha256: '', shiftS: 0 }],
})
