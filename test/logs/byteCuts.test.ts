import { isDeepStrictEqual } from 'node:util'
import { describe, expect, test } from 'vitest'
import { openLog } from '../../src/logs/index.ts'
import { type Layout, understandLayout } from '../../src/logs/lines/layout.ts'
import { LogBody } from '../../src/logs/logBody.ts'
import { SampleTable } from '../../src/logs/table/sampleTable.ts'
import { left } from './bodyTable.ts'
import { shapes } from './shapes.ts'
import { lines, utf8, utf16 } from './support.ts'

/** What the body of a log leaves in its table when it comes in two pieces. */
function tableOf(layout: Layout, pieces: readonly Uint8Array[]) {
  const table = new SampleTable()
  const body = new LogBody(layout, table)
  for (const piece of pieces) body.push(piece)
  return left(body, table)
}

describe('the body of a log reads the same wherever it is cut in two', () => {
  test.each(shapes.filter(({ log }) => typeof log === 'string'))('$title', ({ log, options = {} }) => {
    const bytes = utf8(String(log).replace('\ufeff', ''))
    const layout = understandLayout(new TextDecoder().decode(bytes).split(/\r\n|\r|\n/), options)
    if (!layout) throw new Error('no layout')
    const whole = tableOf(layout, [bytes])
    expect(whole.rows).toBeGreaterThan(10)
    for (let cut = 0; cut <= bytes.length; cut++) {
      const pieces = [bytes.subarray(0, cut), bytes.subarray(cut)]
      if (!isDeepStrictEqual(tableOf(layout, pieces), whole))
        expect({ cut, ...tableOf(layout, pieces) }).toEqual(whole)
    }
  })
})

function readIn(pieces: readonly Uint8Array[], options = {}) {
  const log = openLog('log.csv', options)
  for (const piece of pieces) log.push(piece)
  return log.finish()
}

describe('a log longer than its head reads the same in pieces of any size', () => {
  const logs: Record<string, Uint8Array> = {
    plain: utf8(`time_s,force_N\n${lines(40_000, i => `${(i / 100).toFixed(2)},${(i % 997) / 8}`)}`),
    'with odd rows': utf8(
      `time_s;force_N;note\r\n${lines(30_000, i => `${(i / 100).toFixed(2)};${(i % 997) / 8}${i % 1000 === 7 ? `;"torn\r\n${i}"` : ''}`, '\r\n')}`,
    ),
    'with carriage returns alone': utf8(
      `time_s\tforce_N\r${lines(30_000, i => `${(i / 100).toFixed(2)}\t${i % 997}`, '\r')}`,
    ),
    stamped: utf8(
      lines(
        20_000,
        i =>
          `12:${String(Math.floor(i / 600) % 60).padStart(2, '0')}:${((i % 600) / 10).toFixed(1).padStart(4, '0')} -> ${i % 997} N`,
      ),
    ),
    'in UTF-16': utf16(`time_s,force_N\n${lines(20_000, i => `${(i / 100).toFixed(2)},${i % 997}`)}`),
    'JSON Lines': utf8(lines(20_000, i => JSON.stringify({ t_ms: i * 10, force_N: i % 997 }))),
  }
  for (const [title, bytes] of Object.entries(logs)) {
    test(title, () => {
      const whole = readIn([bytes])
      expect(whole.ok && whole.value.timeS.length).toBeGreaterThanOrEqual(20_000)
      for (const size of [4097, 262_144, 262_145, 300_007]) {
        const pieces = Array.from({ length: Math.ceil(bytes.length / size) }, (_, i) =>
          bytes.subarray(i * size, (i + 1) * size),
        )
        expect(isDeepStrictEqual(readIn(pieces), whole)).toBe(true)
      }
    })
  }

  test('the caller may use its chunk again', () => {
    const bytes = logs.plain!
    const whole = readIn([bytes])
    const log = openLog('log.csv', {}, bytes.length)
    const chunk = new Uint8Array(10_000)
    for (let at = 0; at < bytes.length; at += chunk.length) {
      const piece = bytes.subarray(at, at + chunk.length)
      chunk.set(piece)
      log.push(chunk.subarray(0, piece.length))
    }
    expect(isDeepStrictEqual(log.finish(), whole)).toBe(true)
  })
})
