import { expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

const told = (time: (i: number) => string): string[] =>
  recordingOf(`time_s,force_N\n${lines(80, i => `${time(i)},${i}`)}`).assumptions.map(({ text }) => text)

test('times that go on in milliseconds, or by a clock that was set meanwhile, are doubted with their line', () => {
  expect(told(i => (i < 40 ? (i / 10).toFixed(1) : String(100 * i)))).toContainEqual(
    expect.stringMatching(
      /^From line 42 on .* goes on by 1000 times what it did before: its unit seems to change/,
    ),
  )
  expect(told(i => `${(i < 40 ? 0 : 1.7e9) + Number((i / 10).toFixed(1))}`)).toEqual([
    expect.stringMatching(
      /^From line 42 on .* goes on 1700000000 s later: its clock seems to have been set there/,
    ),
  ])
})
test('a pause of an hour is none of these', () => {
  expect(told(i => ((i < 40 ? 0 : 3600) + i / 10).toFixed(1))).toEqual([])
})
