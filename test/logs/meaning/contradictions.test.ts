import { describe, expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

const pull = (i: number): number => (i < 30 ? i : 0)
const kg = `time_s,force_kg\n${lines(60, i => `${(i / 20).toFixed(2)},${pull(i).toFixed(2)}`)}`

const points = `time_s;force_N\n${lines(60, i => `${i + 1}.250;${pull(i) + 1}.500`)}`

const clock = `at,force_kg\n${lines(60, i => `12:00:${String(i).padStart(2, '0')},${pull(i)}`)}`

describe('times of its own count for more than a rate that was told, and that is said:', () => {
  test.each([
    ['a named time', kg, 3, /“time_s” say 20 samples a second; they are followed, and the rate of 40/],
    [
      'a unit in its cells',
      kg.replace('time_s', 'q').replace(/^(\d[\d.]*),/gm, '$1 s,'),
      3,
      /“q” say 20 samples/,
    ],
    ['a clock', clock, 60, /“at” are a clock; they are followed, and the rate of 40/],
  ])('%s', (_, log, endS, told) => {
    const r = recordingOf(log, { rateHz: 40 })
    expect(r.timeS.at(-1)).toBeCloseTo(endS * (59 / 60), 6)
    expect(r.assumptions.filter(({ code }) => code === 'contradiction')).toEqual([
      { code: 'contradiction', text: expect.stringMatching(told) },
    ])
  })
  test('a named time that stands still gives way', () => {
    const still = recordingOf(kg.replace(/^\d[\d.]*,/gm, '0,'), { rateHz: 40 })
    expect(still.timeS.at(-1)).toBeCloseTo(59 / 40, 6)
    expect(still.timeFrom).toBe('rate')
  })
  test('row numbers give way', () => {
    const rows = recordingOf(`n,force_kg\n${lines(60, i => `${i},${pull(i)}`)}`, { rateHz: 40 })
    expect(rows.timeS.at(-1)).toBeCloseTo(59 / 40, 6)
  })
})

describe('an option against the log is followed, and told in the line of what was understood and as a warning:', () => {
  test.each([
    ['--unit', kg, { unit: 'N' } as const, /column 2 “force_kg” is in kgf; it is read in N, as told/],
    [
      '--rate',
      kg.replace('time_s', 'a'),
      { rateHz: 40 },
      /column 1 “a” say 20 samples a second; 40 is taken, as told/,
    ],
    [
      '--decimal',
      points,
      { decimal: 'comma' } as const,
      /“1\.250” reads best with a decimal point; the decimal/,
    ],
  ])('%s', (_, log, options, told) => {
    const r = recordingOf(log, options)
    expect(r.understood).toMatch(told)
    expect(r.assumptions.filter(({ code }) => code === 'contradiction')).toEqual([
      { code: 'contradiction', text: expect.stringMatching(told) },
    ])
  })
  test('and nothing is told where both say the same', () => {
    expect(recordingOf(kg, { unit: 'kgf', rateHz: 20, decimal: 'point' }).assumptions).toEqual([])
    expect(recordingOf(kg, { rateHz: 20.2 }).assumptions).toEqual([])
  })
})

test('a header and cells that name two units are told; the cells are followed', () => {
  const r = recordingOf(`time_s;force (N)\n${lines(40, i => `${i / 10};${pull(i)}.5 kg`)}`)
  expect(r.forceUnit).toBe('kgf')
  expect(r.understood).toMatch(/says N, its cells say kgf/)
  expect(r.assumptions.map(({ code }) => code)).toEqual(['contradiction'])
})

test.each(['volts', 'Volt', 'signal millivolts', 'raw volts'])('“%s” as a name is no unit of force', name => {
  const r = recordingOf(kg.replace('force_kg', name))
  expect(r.forceUnit).toBeNull()
  expect(r.forceN[29]).toBe(29)
  expect(r.assumptions.map(({ code }) => code)).toEqual(['unit-not-told'])
})
