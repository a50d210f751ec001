import { describe, expect, test } from 'vitest'
import { createDecoder, type Decoded } from '../../../src/capture/lines/decode.ts'
import { withChecksum } from '../../../src/capture/protocol.ts'
import { fuzzed } from './fuzz.ts'

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)

/** All that was said, as one list whatever the cuts: values, stamps, texts. */
function gist(decoded: readonly Decoded[]): unknown[] {
  return decoded.flatMap((d): unknown[] => {
    if (d.kind === 'samples')
      return [...d.block.values].map((value, i) => [value, d.block.stampS?.[i] ?? null])
    return d.kind === 'remark' ? [`${d.remark.kind} ${d.remark.text}`] : [d.kind]
  })
}

const STREAM = [
  'time_ms,force_kg\r\n0,0.01\r\n100,0.02\r\n\r\n200,1.5\r\nsome words\r\n300,1.75\r\n',
  `${withChecksum('tenterhook 1 unit=counts tick=1e-6')}\n${withChecksum('s 65535 4294967295 -7 0')}\r\n${withChecksum('s 0 1000 8 0')}\n`,
  '1.23 kg\r2.34 kg\r3.5 kg\rÜberlast\r4 kg\r',
]
for (const [s, stream] of STREAM.entries()) {
  test(`stream ${s} means the same at every cut`, () => {
    const all = bytes(stream)
    const whole = gist(createDecoder().push(all, 1))
    expect(whole.length).toBeGreaterThan(3)
    for (let cut = 0; cut <= all.length; cut++) {
      const decoder = createDecoder()
      const parts = [...decoder.push(all.subarray(0, cut), 1), ...decoder.push(all.subarray(cut), 1)]
      expect(gist(parts), `cut at ${cut}`).toEqual(whole)
    }
  })
}

describe('units', () => {
  const unitOf = (text: string, options = {}): unknown =>
    createDecoder(options)
      .push(bytes(text), 0)
      .find(d => d.kind === 'columns')
  test('of the line', () =>
    expect(unitOf('1.2 lbf\n1.3 lbf\n')).toMatchObject({ columns: { unit: 'lbf', unitAssumed: false } }))
  test('none told: newton, assumed', () =>
    expect(unitOf('1.2\n1.3\n')).toMatchObject({ columns: { unit: 'N', unitAssumed: true } }))
  test('large whole numbers: counts, assumed', () =>
    expect(unitOf('83211\n83212\n')).toMatchObject({ columns: { unit: 'counts', unitAssumed: true } }))
  test('as told by the operator', () =>
    expect(unitOf('83211\n83212\n', { unit: 'gf' })).toMatchObject({ columns: { unit: 'gf' } }))
})

test('a line that never ends stays within bounds', () => {
  const decoder = createDecoder()
  for (let i = 0; i < 300; i++) decoder.push(new Uint8Array(1000).fill(65), i)
  expect(gist(decoder.push(bytes('\n1.5 kg\n2.5 kg\n'), 300)).filter(Array.isArray)).toEqual([
    [1.5, null],
    [2.5, null],
  ])
})

test('odd bytes tell a wrong speed, and text does not', () => {
  const decoder = createDecoder()
  decoder.push(bytes('1.23 kg\n'.repeat(20)), 0)
  expect(decoder.oddShare()).toBe(0)
  decoder.push(
    Uint8Array.from({ length: 300 }, (_, i) => (i * 73) % 256),
    0,
  )
  expect(decoder.oddShare()).toBeGreaterThan(0.5)
})

test('fuzzed streams, cut anywhere: nothing throws, all is finite', () => {
  fuzzed(1, 150, 1)
  fuzzed(1_000, 500, 20)
})

test('lines that are not clear yet are kept all the same, until samples come of them', () => {
  const decoder = createDecoder()
  const first = decoder.push(bytes('0,1.5\n100,1.6\n'), 1)
  expect(gist(first)).toEqual(['held 0,1.5', 'held 100,1.6'])
  const later = decoder.push(bytes('200,1.7\n300,1.8\n400,1.9\n500,2.0\n600,2.1\n'), 2)
  const blocks = later.flatMap(d => (d.kind === 'samples' ? [d.block] : []))
  // Each with the moment at which it came.
  expect(blocks.map(block => [block.arrivedS, block.values.length])).toEqual([
    [1, 2],
    [2, 5],
  ])
})
