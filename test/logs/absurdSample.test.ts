import { expect, test } from 'vitest'
import { makePull } from '../../src/capture/pretend/index.ts'
import { readRecording } from '../../src/core/index.ts'
import { writeCsv } from '../../src/logs/index.ts'
import { recordingOf } from './support.ts'

/** One absurd number takes no part in display step, noise, zero or doubt: all stand as without it. */
test.each([
  ['two-logs', 1],
  ['two-logs', 2],
  ['zeroed-under-load', 2],
] as const)('%s, seed %i', (kind, seed) => {
  const rows = [...writeCsv(makePull({ kind, seed }).recording, { unit: 'kgf' })].join('').split('\n')
  const read = (log: string) => readRecording(recordingOf(log))
  const before = read(rows.join('\n'))
  const doubt = ({ results: { peakForce: p } }: ReturnType<typeof read>): number =>
    (p.highN ?? Number.NaN) - (p.lowN ?? Number.NaN)
  for (const share of [0.02, 0.3, 0.97])
    for (const absurd of ['9e9', '1e308', '-9e9']) {
      const with1 = rows.map((row, i) =>
        i === Math.max(8, Math.floor(rows.length * share)) ? row.replace(/,[^,]*/, `,${absurd}`) : row,
      )
      const after = read(with1.join('\n'))
      expect(after.recording.spikes).toHaveLength(1)
      expect(after.recording.quantumN / before.recording.quantumN).toBeCloseTo(1, 1)
      expect(after.zeros.map(({ basis }) => basis)).toEqual(before.zeros.map(({ basis }) => basis))
      expect(doubt(after) / doubt(before)).toBeCloseTo(1, 1)
      expect((after.results.peakForce.valueN ?? 0) / (before.results.peakForce.valueN ?? 1)).toBeCloseTo(1, 4)
    }
})
