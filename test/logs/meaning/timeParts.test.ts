import { describe, expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

/** A record of 30 s at 10 Hz that begins at 11:59:50 and passes minute, hour and noon. */
const atS = (i: number): number => 11 * 3600 + 59 * 60 + 50 + i / 10
const pull = (i: number): number => (i < 200 ? i : 0)
const h = (i: number): number => Math.floor(atS(i) / 3600)
const min = (i: number): number => Math.floor(atS(i) / 60) % 60
const s = (i: number): number => Math.floor(atS(i) + 1e-6) % 60
const fraction = (i: number): number => i % 10
const seconds = (i: number): string => `${s(i)}.${fraction(i)}`
const clock = (i: number): string => `${`0${min(i)}`.slice(-2)}:${`0${seconds(i)}`.slice(-4)}`

describe('parts of a time in columns of their own, or a part alone, run on over their end', () => {
  test.each([
    ['h,min,s,ms,N', (i: number) => `${h(i)},${min(i)},${s(i)},${100 * fraction(i)},${pull(i)}`],
    ['h,min,s,N', (i: number) => `${h(i)},${min(i)},${seconds(i)},${pull(i)}`],
    ['min,s,N', (i: number) => `${min(i)},${seconds(i)},${pull(i)}`],
    ['Minutes,Seconds,N', (i: number) => `${min(i)},${seconds(i)},${pull(i)}`],
    ['s,ms,N', (i: number) => `${s(i)},${100 * fraction(i)},${pull(i)}`],
    ['s,N', (i: number) => `${seconds(i)},${pull(i)}`],
    ['time,N', (i: number) => `${clock(i)},${pull(i)}`],
  ])('%s', (header, row) => {
    const r = recordingOf(`${header}\n${lines(300, row)}`)
    expect(r.segments).toHaveLength(1)
    expect(r.timeS[299]! - r.timeS[0]!).toBeCloseTo(29.9)
    expect(r.timeS[105]! - r.timeS[0]!).toBeCloseTo(10.5)
    expect(r.forceN[199]).toBe(199)
    expect(r.assumptions).toEqual([])
  })
})

test('a reset at any other time is still one', () => {
  const r = recordingOf(`s,N\n${lines(300, i => `${((i % 200) / 10).toFixed(1)},${i}`)}`)
  expect(r.segments).toHaveLength(2)
})

test('a restart that the log tells is one, also at the end of a minute', () => {
  const row = (i: number) => `${((i % 600) / 10).toFixed(1)},${i}`
  const r = recordingOf(`s,N\n${lines(600, row)}s,N\n${lines(100, row)}`)
  expect(r.segments).toHaveLength(2)
})

test('seconds and milliseconds of the same time stay two columns', () => {
  const r = recordingOf(`time_s,time_ms,N\n${lines(300, i => `${i / 10},${100 * i},${i}`)}`)
  expect(r.timeS[299]).toBeCloseTo(29.9)
  expect(r.channels).toHaveLength(1)
})
