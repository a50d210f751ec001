import { expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

const told = (text: string): string[] =>
  recordingOf(text).assumptions.flatMap(({ code, text: said }) => (code === 'contradiction' ? [said] : []))
const log = (force: (i: number) => string): string =>
  `time_s,force_N\n${lines(80, i => `${(i / 10).toFixed(1)},${force(i)}`)}`
/** Rises by half a newton a row. */
const rising = (i: number): number => 10.25 + i / 2

test.each([
  [
    'a decimal mark that is left out',
    log(i => (i < 40 ? rising(i).toFixed(2) : rising(i).toFixed(2).replace('.', ''))),
  ],
  ['grams after kilograms', log(i => (i < 40 ? rising(i).toFixed(2) : (1000 * rising(i)).toFixed(0)))],
  [
    'in the rest after a small pull',
    log(i => (i < 40 ? (i < 30 ? i / 3 : 0.012).toFixed(2) : String(11 + (i % 9)))),
  ],
  [
    'where it begins near the greatest force, small by chance',
    log(i => (i < 40 ? (0.5 + i / 4).toFixed(2) : String([12, 3, 5, 15, 2, 9][(i - 40) % 6]))),
  ],
  ['from a rest', log(i => (i < 40 ? `0.0${i % 4}` : (1000 * rising(i - 40)).toFixed(0)))],
])('%s is told with its line', (_, text) => {
  expect(told(text)).toEqual([
    expect.stringMatching(/^From line 42 on column 2 “force_N” holds whole numbers only/),
  ])
})
test.each([
  [
    'a display without room for decimals',
    log(i => (rising(i) < 30 ? rising(i).toFixed(2) : rising(i).toFixed(0))),
  ],
  [
    'a display without room for decimals, and a break',
    log(i => (rising(i) < 20 ? rising(i).toFixed(2) : i < 60 ? rising(i).toFixed(0) : String(i % 3))),
  ],
  ['whole numbers all over', log(i => rising(i).toFixed(0))],
  ['a break to nought', log(i => (i < 40 ? rising(i).toFixed(2) : '0'))],
  ['a few whole numbers at the end', log(i => (i < 75 ? rising(i).toFixed(2) : '4000'))],
])('%s is none', (_, text) => {
  expect(told(text)).toEqual([])
})
