import { describe, expect, test } from 'vitest'
import { createDecoder, type Decoded } from '../../src/capture/lines/decode.ts'
import { crc16, parseDeviceLine, withChecksum } from '../../src/capture/protocol.ts'

test('the checksum is CRC-16/IBM-3740', () => {
  // Catalogue of parametrised CRC algorithms: check value of "123456789".
  expect(crc16('123456789')).toBe(0x29b1)
})

test('reads a greeting, a sample and an answer', () => {
  expect(parseDeviceLine(withChecksum('tenterhook 1 unit=counts tick=1e-6 rate=80 name=bench'))).toEqual({
    kind: 'greeting',
    version: 1,
    unit: 'counts',
    tickS: 1e-6,
    rateHz: 80,
    name: 'bench',
  })
  expect(parseDeviceLine(withChecksum('s 17 1843250 -83211 4'))).toEqual({
    kind: 'sample',
    sequence: 17,
    ticks: 1843250,
    value: -83211,
    status: 4,
  })
  expect(parseDeviceLine(withChecksum('no rate 80: at most 40'))).toEqual({
    kind: 'answer',
    ok: false,
    text: 'rate 80: at most 40',
  })
})

test('every single wrong character of a line is noticed', () => {
  const line = withChecksum('s 17 1843250 -83211 0')
  for (let i = 0; i < line.length; i++) {
    const wrong = `${line.slice(0, i)}${line[i] === '7' ? '1' : '7'}${line.slice(i + 1)}`
    expect(parseDeviceLine(wrong)?.kind ?? 'no line of the protocol', wrong).not.toBe('sample')
  }
})

test('lines of other devices are not taken for it', () => {
  for (const line of ['1.23 kg', 's 17', 'ok', 'tenterhook', 'sample*1234', 'no signal'])
    expect(parseDeviceLine(line)).toBeNull()
})

describe('over a line', () => {
  const said = (lines: readonly string[]): Decoded[] =>
    createDecoder().push(new TextEncoder().encode(lines.map(line => `${withChecksum(line)}\n`).join('')), 1)

  test('the greeting tells unit and step of the time', () => {
    const decoded = said(['tenterhook 1 unit=N tick=0.001', 's 0 500 1.25 0'])
    expect(decoded).toMatchObject([
      { kind: 'remark', remark: { kind: 'device-reset' } },
      { kind: 'columns', columns: { unit: 'N', stamps: { tickS: 0.001 } } },
      { kind: 'greeting' },
      { kind: 'samples' },
    ])
    expect(decoded.at(-1)).toMatchObject({
      block: { values: Float64Array.of(1.25), stampS: Float64Array.of(0.5) },
    })
  })
  test('without a greeting samples are counts, stamped in microseconds', () => {
    expect(said(['s 9 2000000 812 0'])).toMatchObject([
      { kind: 'columns', columns: { unit: 'counts', unitAssumed: true } },
      { kind: 'samples', block: { sequence: Uint32Array.of(9), stampS: Float64Array.of(2) } },
    ])
  })
  test('the status becomes remarks; a value without a cell is none', () => {
    const decoded = said(['s 0 0 5 0', 's 1 1000 8388607 2', 's 2 2000 6 4'])
    const remarks = decoded.flatMap(d => (d.kind === 'remark' ? [d.remark.text] : []))
    expect(remarks).toEqual(['no load cell at the device', 'the device’s zero was set'])
    expect(decoded.flatMap(d => (d.kind === 'samples' ? [...d.block.values] : []))).toEqual([5, 6])
  })
})
