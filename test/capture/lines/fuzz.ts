import { expect } from 'vitest'
import { createDecoder, type Decoded } from '../../../src/capture/lines/decode.ts'
import { withChecksum } from '../../../src/capture/protocol.ts'

function dice(seed: number): (below: number) => number {
  let state = seed >>> 0
  return below => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * below)
  }
}

const PIECES = [
  '12.5',
  '-0.031',
  '1e9',
  'nan',
  'inf',
  '--',
  ',',
  ';',
  '\t',
  '"',
  ' ',
  'kg',
  'N',
  'time',
  'force',
  '=',
  ':',
  '12:01:03.250 -> ',
  '{"t":1,"f":2}',
  '[',
  '\u0000',
  'ü',
  '\ufeff',
  '力',
  '#',
  '\r',
  '\n',
  '\r\n',
  '\n\n',
  `${withChecksum('s 1 1000 5 0')}\n`,
  `${withChecksum('tenterhook 1 unit=kN tick=1e-3')}\n`,
  's 1 2 3 4*FFFF\n',
]

/** A stream of good lines spoilt in places, or of odd pieces, or of mere bytes. */
function stream(roll: (below: number) => number): Uint8Array {
  const text = new TextEncoder()
  switch (roll(3)) {
    case 0: {
      let lines = ''
      for (let i = 0; i < 5 + roll(20); i++) lines += `${i * 100},${roll(1000) / 100}\n`
      const bytes = text.encode(lines)
      for (let i = 0; i < 1 + roll(6); i++) bytes[roll(bytes.length)] = roll(256)
      return bytes
    }
    case 1: {
      let pieces = ''
      for (let i = 0; i < 1 + roll(60); i++) pieces += PIECES[roll(PIECES.length)]
      return text.encode(pieces)
    }
    default:
      return Uint8Array.from({ length: roll(300) }, () => roll(256))
  }
}

const KNOWN = new TextEncoder().encode('time_ms,force_N\n0,1\n')

const gist = (decoded: readonly Decoded[]): string =>
  decoded
    .map(d => {
      if (d.kind === 'samples') return [...d.block.values].join()
      return d.kind === 'remark' ? d.remark.text : d.kind
    })
    .join('|')
    // Samples of two reads stand in two blocks.
    .replaceAll('|', ',')

/**
 * Streams from `seed` on, each cut in two at a place of its own: nothing throws, values are finite, the cut
 * means nothing. `perDecoder` streams follow one another over one line, so that each meets what the ones
 * before left behind.
 */
export function fuzzed(seed: number, count: number, perDecoder: number): void {
  let whole = createDecoder()
  let parted = createDecoder()
  for (let i = 0; i < count; i++) {
    if (i % perDecoder === 0) {
      whole = createDecoder()
      parted = createDecoder()
      // One alone meets a line whose columns are not known yet; many, one whose columns are.
      if (perDecoder > 1) for (const decoder of [whole, parted]) decoder.push(KNOWN, 0)
    }
    const roll = dice(seed + i)
    const bytes = stream(roll)
    const cut = roll(bytes.length + 1)
    const together = whole.push(bytes, 1)
    const apart = [...parted.push(bytes.subarray(0, cut), 1), ...parted.push(bytes.subarray(cut), 1)]
    const finite = together.every(d => d.kind !== 'samples' || d.block.values.every(Number.isFinite))
    if (!finite) expect(finite, `seed ${seed + i}`).toBe(true)
    if (gist(apart) !== gist(together))
      expect(gist(apart), `seed ${seed + i}, cut at ${cut}`).toBe(gist(together))
  }
}
