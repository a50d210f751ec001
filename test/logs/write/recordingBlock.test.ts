import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readLog, recordingBlock, recordingFromBlock } from '../../../src/logs/index.ts'

const rows = Array.from({ length: 12 }, (_, i) =>
  [i / 10, i * 12.25, i / 5, i === 5 ? 'crack' : ''].join(','),
)
const log = ['time s,force N,travel mm,note', ...rows, ''].join('\n')

const recording = () => {
  const read = readLog(new TextEncoder().encode(log), 'pull.csv')
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}

const bufferOf = (bytes: Uint8Array): ArrayBuffer => bytes.slice().buffer as ArrayBuffer

test('a recording comes back from its block with every sample, channel, note and name', () => {
  expect(recordingFromBlock(bufferOf(recordingBlock(recording())))).toEqual({ ok: true, value: recording() })
})

test('names in any script leave the columns whole', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), name => {
      const named = { ...recording(), name }
      expect(recordingFromBlock(bufferOf(recordingBlock(named)))).toEqual({ ok: true, value: named })
    }),
    { numRuns: 50 },
  )
})

test('a block that was cut anywhere is told', () => {
  const block = recordingBlock(recording())
  for (const length of [0, 3, 4, 40, block.length - 8, block.length - 1])
    expect(recordingFromBlock(bufferOf(block.subarray(0, length))).ok).toBe(false)
})
