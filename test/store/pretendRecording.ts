import type { Recording } from '../../src/core/recording.ts'

/** A small recording and the log that it was read from. */
export function pretendRecording(name: string, forces: readonly number[] = [0, 12.5, 68.21, 3]) {
  const log = new TextEncoder().encode(
    `time_s,force_N\n${forces.map((force, i) => `${(i / 10).toFixed(1)},${force}\n`).join('')}`,
  )
  const recording: Recording = {
    name,
    sha256: '',
    timeS: Float64Array.from(forces, (_, i) => Number((i / 10).toFixed(1))),
    forceN: Float64Array.from(forces),
    forceUnit: 'N',
    timeFrom: 'column',
    segments: [{ from: 0, to: forces.length, began: 'start', name, sha256: '', shiftS: 0 }],
    channels: [
      {
        name: 'travel',
        kind: 'travel',
        unit: 'mm',
        values: Float64Array.from(forces, (_, i) => (i % 2 ? NaN : i)),
      },
    ],
    notes: [{ line: 3, sample: 1, text: 'creaks <b>loudly</b>' }],
    assumptions: [{ code: 'unit-assumed', text: 'newton' }],
    understood: 'time and force',
  }
  return { recording, log }
}
