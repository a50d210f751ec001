import { describe, expect, test } from 'vitest'
import { joinRecordings } from '../../src/logs/index.ts'
import { lines, recordingOf } from './support.ts'

const first = {
  ...recordingOf(
    `time_s,force_N,travel_mm\n${lines(10, i => `${5 + i / 10},${i},${i}`)}end of stroke\n`,
    {},
    'a.csv',
  ),
  sha256: 'aa',
}
const second = { ...recordingOf(`ms,kgf\n${lines(12, i => `${i * 50},${i}`)}`, {}, 'b.csv'), sha256: 'bb' }

describe('joinRecordings', () => {
  test('sets each log one nominal step after the one before, and keeps its own times', () => {
    const joined = joinRecordings([first, second])
    if (!joined.ok) throw new Error('did not join')
    const { timeS, forceN, segments, name, sha256, channels, notes } = joined.value
    expect([name, sha256, timeS.length]).toEqual(['a.csv', 'aa', 22])
    expect(timeS[10]! - timeS[9]!).toBeCloseTo(0.1)
    expect(segments.map(({ from, to, began, name, sha256 }) => ({ from, to, began, name, sha256 }))).toEqual([
      { from: 0, to: 10, began: 'start', name: 'a.csv', sha256: 'aa' },
      { from: 10, to: 22, began: 'file', name: 'b.csv', sha256: 'bb' },
    ])
    expect(timeS[10]! - segments[1]!.shiftS).toBeCloseTo(0)
    expect(timeS[21]! - segments[1]!.shiftS).toBeCloseTo(0.55)
    expect(forceN[12]).toBeCloseTo(2 * 9.80665)
    expect(channels[0]?.values[9]).toBe(9)
    expect(channels[0]?.values[10]).toBeNaN()
    expect(notes).toEqual([{ line: 12, sample: 10, text: 'end of stroke' }])
    for (let i = 1; i < 22; i++) expect(timeS[i]).toBeGreaterThan(timeS[i - 1]!)
  })

  test('leaves one log as it is', () => expect(joinRecordings([first])).toEqual({ ok: true, value: first }))

  test.each([
    ['no logs', [], /no logs/],
    [
      'counts with a force',
      [first, { ...second, forceUnit: 'counts' as const }],
      /b\.csv.*raw counts.*a\.csv.*N.*calibration/,
    ],
    ['the same log twice', [first, { ...second, sha256: 'aa' }], /the same log/],
  ])('%s is a problem', (_, recordings, says) => {
    const joined = joinRecordings(recordings)
    expect(joined.ok ? '' : joined.problems.map(p => `${p.where} ${p.what} ${p.cure}`).join()).toMatch(says)
  })
})
