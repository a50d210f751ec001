import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { type WavFormat, WavReader } from '../../../src/publish/sync/wav.ts'
import { type WavShape, wavFile } from './sounds.ts'

function readWav(pieces: readonly Uint8Array[]) {
  const samples: number[] = []
  const formats = new Set<WavFormat>()
  const reader = new WavReader('clip.wav', (block, format) => {
    for (const value of block) samples.push(value)
    formats.add(format)
  })
  for (const piece of pieces) reader.push(piece)
  return { samples, outcome: reader.finish() }
}

const random = seededRandom(4)
const SAMPLES = Float64Array.from({ length: 60 }, (_, i) => (i === 0 ? -1 : 2 * random.uniform() - 1))

const SHAPES: readonly WavShape[] = [
  { rateHz: 8_000, channels: 1, bits: 8 },
  { rateHz: 44_100, channels: 1, bits: 16 },
  { rateHz: 48_000, channels: 2, bits: 16, extra: true },
  { rateHz: 48_000, channels: 2, bits: 24 },
  { rateHz: 96_000, channels: 1, bits: 32 },
  { rateHz: 48_000, channels: 2, bits: 32, float: true },
  { rateHz: 48_000, channels: 1, bits: 64, float: true },
  { rateHz: 48_000, channels: 6, bits: 24, extensible: true },
  { rateHz: 48_000, channels: 2, bits: 32, float: true, extensible: true },
  { rateHz: 48_000, channels: 2, bits: 16, form: 'RF64' },
  { rateHz: 48_000, channels: 2, bits: 16, toldBytes: 0xffff_ffff },
  { rateHz: 48_000, channels: 2, bits: 16, toldBytes: 0 },
]

describe.each(SHAPES)(
  '$bits bits, $channels channels, float $float, extensible $extensible, $form, told $toldBytes',
  shape => {
    const file = wavFile(SAMPLES, shape)
    // They come as floats of 32 bits.
    const step = Math.max(1e-7, shape.float ? 0 : 2 ** (1 - shape.bits))

    test('the samples come back', () => {
      const { samples, outcome } = readWav([file])
      expect(outcome).toMatchObject({
        ok: true,
        value: {
          rateHz: shape.rateHz,
          channels: shape.channels,
          frames: 60 / shape.channels,
          lengthS: 60 / shape.channels / shape.rateHz,
          cutShort: false,
        },
      })
      expect(samples.length).toBe(60)
      for (const [i, value] of samples.entries())
        expect(Math.abs(value - SAMPLES[i]!)).toBeLessThanOrEqual(step)
    })

    test('cut in two at any byte they are the same', () => {
      const whole = readWav([file])
      for (let cut = 0; cut <= file.length; cut++) {
        const parts = readWav([file.subarray(0, cut), file.subarray(cut)])
        expect(parts.samples).toEqual(whole.samples)
        expect(parts.outcome).toEqual(whole.outcome)
      }
    })

    test('byte by byte they are the same', () => {
      expect(readWav(Array.from(file, byte => Uint8Array.of(byte))).samples).toEqual(readWav([file]).samples)
    })
  },
)

describe('what is no sound is told', () => {
  const file = wavFile(SAMPLES, { rateHz: 48_000, channels: 2, bits: 16 })
  const told = (bytes: Uint8Array): string => {
    const { outcome } = readWav([bytes])
    return outcome.ok ? '' : outcome.problems.map(p => `${p.where}: ${p.what} ${p.cure}`).join('\n')
  }
  const changed = (at: number, ...to: number[]): Uint8Array => {
    const copy = file.slice()
    copy.set(to, at)
    return copy
  }
  test.each([
    ['empty', new Uint8Array(0), 'ends before it begins'],
    ['another file', new TextEncoder().encode('time,force\n0.1,2.3\n0.2,2.4\n'), 'no WAVE file'],
    ['compressed', changed(20, 0x11), 'compressed (format 17)'],
    ['no channels', changed(22, 0), '0 channels'],
    ['thousands of channels', changed(22, 0xff, 0xff), '65535 channels'],
    ['12-bit samples', changed(32, 5), 'format cannot be'],
    ['no sound', file.slice(0, 36), 'no sound in the file'],
    ['samples before the format', changed(12, 0x66, 0x6d, 0x74, 0x5f), 'before their format'],
    ['an extension that is not known', changed(20, 0xfe, 0xff), 'extended format'],
    ['a head of a gigabyte', changed(19, 0x40), 'bytes long'],
  ])('%s', (_, bytes, text) => expect(told(bytes)).toContain(text))

  test('a file that was cut short gives what it has, and says so', () => {
    const { samples, outcome } = readWav([file.subarray(0, file.length - 21)])
    expect(outcome).toMatchObject({ ok: true, value: { cutShort: true, frames: 24 } })
    expect(samples.length).toBe(48)
  })

  test('whatever the bytes, nothing is thrown and every sample is finite', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...SHAPES),
        fc.array(fc.tuple(fc.nat(60), fc.nat(255)), { maxLength: 6 }),
        (shape, changes) => {
          const bytes = wavFile(SAMPLES, shape)
          for (const [at, to] of changes) bytes[at] = to
          expect(readWav([bytes]).samples.every(Number.isFinite)).toBe(true)
        },
      ),
      { numRuns: 500 },
    )
  })
})

test('a long file is never held: it goes by in small blocks', () => {
  const piece = new Uint8Array(4 * 1024 * 1024)
  let frames = 0
  let longest = 0
  const reader = new WavReader('long.wav', block => {
    frames += block.length / 2
    longest = Math.max(longest, block.length)
  })
  reader.push(wavFile([], { rateHz: 192_000, channels: 2, bits: 16, toldBytes: 0xffff_ffff }))
  for (let i = 0; i < 16; i++) reader.push(piece)
  expect(frames).toBe((16 * piece.length) / 4)
  expect(longest).toBeLessThanOrEqual(32_768)
  expect(reader.finish()).toMatchObject({ ok: true, value: { frames } })
})
