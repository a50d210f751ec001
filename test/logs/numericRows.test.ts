import { describe, expect, test } from 'vitest'
import { readLog } from '../../src/logs/index.ts'
import { utf8 } from './support.ts'

/**
 * Rows of numbers that are no samples: the numbers of the columns below a header, results below the record.
 */

const rows = Array.from({ length: 80 }, (_, i) => `${(i / 10).toFixed(2)};${((i % 9) + 0.25).toFixed(2)};21`)
const header = 'time_s;force_N;temperature_C'
const log = (...lines: string[]): string => `${lines.join('\n')}\n`

function read(text: string) {
  const opened = readLog(utf8(text), 'a.csv')
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  return opened.value
}

const samplesOf = (text: string): unknown => {
  const { timeS, forceN, segments } = read(text)
  return { timeS, forceN, segments: segments.length }
}

const plain = samplesOf(log(header, ...rows))

describe('a row of column numbers below the header is no sample', () => {
  test.each([
    ['directly below it', log(header, '1;2;3', ...rows)],
    ['below its units', log('time;force;temperature', 's;N;C', '1;2;3', ...rows)],
    ['after a blank line', log(header, '', '1;2;3', ...rows)],
  ])('%s', (_where, text) => {
    expect(samplesOf(text)).toEqual(plain)
    expect(read(text).understood).toContain('1 rows above the samples')
  })

  test('nor where whole numbers follow that begin lower', () => {
    const whole = Array.from({ length: 40 }, (_, i) => `${i * 100};${i % 7}`)
    const text = log('time_ms;force_N', '1;2', ...whole)
    expect(samplesOf(text)).toEqual(samplesOf(log('time_ms;force_N', ...whole)))
  })

  test('but a first sample that happens to read so is one', () => {
    const counted = Array.from({ length: 40 }, (_, i) => `${i + 1};${2 + (i % 5)}`)
    expect(read(log('time_s;force_N', ...counted)).timeS).toHaveLength(40)
    const short = Array.from({ length: 40 }, (_, i) => `${1 + i / 4};${2 + i / 8}`)
    expect(read(log('time_s;force_N', ...short)).timeS).toHaveLength(40)
  })
})

describe('rows of results below the record are no samples', () => {
  test.each([
    ['one without a time', [';4.25;21']],
    ['a number alone', ['4.25']],
    ['a number alone after a blank line', ['', '4.25']],
    ['means', ['3.95;4.25;21']],
    ['means and least values', ['3.95;4.25;21', '0.00;0.25;21']],
    ['least, greatest and mean values', ['0.00;0.25;21', '7.90;8.25;21', '3.95;4.25;21']],
    ['sums', ['316.00;336.00;1680']],
  ])('%s', (_what, footer) => {
    const text = log(header, ...rows, ...footer)
    expect(samplesOf(text)).toEqual(plain)
    expect(read(text).assumptions.map(({ code }) => code)).toEqual(['rows-skipped'])
  })

  test('but a last sample after a pause is one, and so are more than three after a reset', () => {
    expect(read(log(header, ...rows, '316.00;5.25;21')).timeS).toHaveLength(81)
    const again = read(log(header, ...rows, ...rows.slice(0, 4)))
    expect(again.timeS).toHaveLength(84)
    expect(again.segments).toHaveLength(2)
  })
})
