// Examples of the reference pages: the body of each test stands in docs/reference/logs.md under the function that it is named after.
import { expect, test } from 'vitest'
import { problemText } from '../../src/core/index.ts'
import {
  joinRecordings,
  openLog,
  readLog,
  readTable,
  recordingBlock,
  recordingFromBlock,
  writeCsv,
  writeJsonLines,
} from '../../src/logs/index.ts'

const rows = Array.from({ length: 20 }, (_, i) => `${i / 10},${i < 15 ? i : 0}`)
const bytes = new TextEncoder().encode(`time_s,force_kgf\n${rows.join('\n')}\n`)

const recordingOf = (name: string) => {
  const log = readLog(bytes, name)
  if (!log.ok) throw new Error(log.problems.map(problemText).join('\n'))
  return log.value
}

test('readLog', () => {
  const log = readLog(bytes, 'handle-2.csv')
  if (!log.ok) throw new Error(log.problems.map(problemText).join('\n'))
  // Forces are newton, whatever the log was in.
  expect(log.value.forceN[14]).toBeCloseTo(14 * 9.80665, 9)
  // Without times it asks for a rate instead of guessing.
  const bare = readLog(new TextEncoder().encode('1\n2\n3\n'.repeat(10)), 'bare.txt')
  expect(bare.ok).toBe(false)
  expect(!bare.ok && bare.problems[0]?.fields).toContain('rateHz')
})

test('openLog', () => {
  // Bytes in pieces of any size, as they come from a file or a network.
  const reader = openLog('handle-2.csv')
  for (let at = 0; at < bytes.length; at += 7) reader.push(bytes.subarray(at, at + 7))
  const log = reader.finish()
  expect(log.ok && log.value.timeS.length).toBe(20)
})

test('joinRecordings', () => {
  const joined = joinRecordings([recordingOf('a.csv'), { ...recordingOf('b.csv'), sha256: 'another' }])
  expect(joined.ok && joined.value.timeS.length).toBe(40)
})

test('readTable', () => {
  const table = readTable(new TextEncoder().encode('file;width_mm\na.csv;10,5\n'), 'specimens.csv')
  expect(table.ok && table.value.rows[0]?.cells).toEqual(['a.csv', '10,5'])
})

test('writeCsv', () => {
  const text = [...writeCsv(recordingOf('a.csv'))].join('')
  expect(text.split('\n')[0]).toContain('time_s')
})

test('writeJsonLines', () => {
  const [first] = [...writeJsonLines(recordingOf('a.csv'))].join('').split('\n')
  expect(JSON.parse(first!)).toMatchObject({ time_s: 0, force_N: 0 })
})

test('recordingBlock', () => {
  // One block of bytes, and back without loss: how recordings go from thread to thread.
  const recording = recordingOf('a.csv')
  const back = recordingFromBlock(recordingBlock(recording).slice().buffer)
  expect(back.ok && back.value.forceN).toEqual(recording.forceN)
})
