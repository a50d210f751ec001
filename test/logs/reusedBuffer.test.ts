import { expect, test } from 'vitest'
import { openLog, readLog } from '../../src/logs/index.ts'

/** Rows enough that the log is longer than the head that is looked at first. */
const rows = Array.from({ length: 40_000 }, (_, i) => `${(i / 100).toFixed(3)},${(i % 97).toFixed(2)}`)
const bytes = new TextEncoder().encode(`time_s,force_N\n${rows.join('\n')}\n`)

test('a log is read the same from a buffer that is filled again for every chunk', () => {
  const reader = openLog('a.csv', {}, bytes.length)
  const buffer = Buffer.alloc(10_007)
  for (let from = 0; from < bytes.length; from += buffer.length) {
    const part = bytes.subarray(from, from + buffer.length)
    buffer.set(part)
    reader.push(buffer.subarray(0, part.length))
  }
  expect(reader.finish()).toEqual(readLog(bytes, 'a.csv'))
})
