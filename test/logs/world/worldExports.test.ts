import { describe, expect, test } from 'vitest'
import { problemsOf, recordingOf } from '../support.ts'
import { worldExports } from './index.ts'

const read = worldExports.flatMap(({ name, text, want }) => (want ? [{ name, text, want }] : []))
const asked = worldExports.filter(({ want }) => want === null)

describe('opens as a person would open it:', () => {
  test.each(read)('$name', ({ text, want }) => {
    const r = recordingOf(text)
    expect(Math.max(...r.forceN) / want.peakN).toBeCloseTo(1, 2)
    expect(r.forceUnit).toBe(want.unit)
    if (want.samples !== undefined) expect(r.forceN).toHaveLength(want.samples)
    if (want.stepS !== undefined) {
      const end = r.timeS.length - 1
      expect((r.timeS[end]! - r.timeS[0]!) / end / want.stepS).toBeCloseTo(1, 1)
    }
  })
})

describe('is asked about or refused, with a cure that can work:', () => {
  test.each(asked)('$name', ({ text }) => {
    const problems = problemsOf(text)
    expect(problems).toHaveLength(1)
    expect(problems[0]!.length).toBeLessThan(600)
  })
  test('readings along the lines, results of specimens, too few readings', () => {
    const of = (name: string): string => problemsOf(worldExports.find(e => e.name === name)!.text)[0]!
    expect(of('readings along one line')).toMatch(/1 row of 120 cells: its readings stand along the lines/)
    expect(of('readings along two lines')).toMatch(/2 rows of 121 cells/)
    expect(of('results only, numbered')).toMatch(/its 14 rows give the results of as many specimens/)
    expect(of('two readings without names')).toMatch(/only 2 samples could be read/)
    expect(of('no force')).toMatch(/no column of force among column 1 “Strain \(%\)”/)
  })
})

test('of tables side by side the time that stands before the force belongs to it', () => {
  const { text } = worldExports.find(({ name }) => name.startsWith('three specimens'))!
  const r = recordingOf(text, { force: 'Load (N) (2)' })
  expect(r.understood).toMatch(/time from column 4 “Time \(s\) \(2\)”/)
  expect(Math.max(...r.forceN)).toBeCloseTo(460)
})

test('two rows of units that differ are told', () => {
  const body = Array.from({ length: 30 }, (_, i) => `${i / 10},${i},${i}`).join('\n')
  const r = recordingOf(`Time,Load,Extension\n(sec),(N),(mm)\n(s),(lbf),(in)\n${body}`)
  expect(r.assumptions.map(({ text }) => text)).toEqual([
    expect.stringMatching(/N and in line 3 lbf; the first is followed/),
  ])
})

test('what fills the end is told as such', () => {
  const { text } = worldExports.find(({ name }) => name.startsWith('room at the end'))!
  expect(recordingOf(text).assumptions).toEqual([
    { code: 'end-mark', text: expect.stringMatching(/last 80 rows \(from line 122 on\) hold 0/) },
  ])
})
