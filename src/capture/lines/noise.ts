/** Bytes looked back on, about ten lines. */
const WINDOW_BYTES = 128
const FEWEST_BYTES = 16
/**
 * Share of bytes that no text holds. Noise has three fifths of them, a line of text with a letter spoilt a
 * tenth.
 */
const NOISE_SHARE = 0.2

/** `noise`: its neighbours are no text. `doubtful`: it is text itself, but what came before it was noise. */
type Finding = 'text' | 'doubtful' | 'noise'

/**
 * Tells noise (a wrong speed, a broken cable) from text, line by line: by chance noise holds lines that read
 * as numbers, and must make no samples all the same.
 */
export function watchNoise(): { line(bytes: Uint8Array, from: number, to: number): Finding } {
  let odd = 0
  let all = 0
  return {
    line(bytes, from, to) {
      const own = oddBytes(bytes, from, to)
      odd += own
      all += to - from + 1
      const isNoise = all >= FEWEST_BYTES && odd > NOISE_SHARE * all
      if (all > WINDOW_BYTES) {
        // What is long past counts less and less.
        odd *= WINDOW_BYTES / 2 / all
        all = WINDOW_BYTES / 2
      }
      if (!isNoise) return 'text'
      return own > 0 ? 'noise' : 'doubtful'
    },
  }
}

/**
 * Bytes of a line that no text holds: control characters, and all beyond ASCII where the line is no UTF-8.
 */
function oddBytes(bytes: Uint8Array, from: number, to: number): number {
  let controls = 0
  let high = 0
  for (let i = from; i < to; i++) {
    const byte = bytes[i]!
    if (byte > 127) high++
    else if (byte === 127 || (byte < 32 && byte !== 9)) controls++
  }
  if (high === 0) return controls
  return isUtf8(bytes.subarray(from, to)) ? controls : controls + high
}

const utf8 = new TextDecoder('utf-8', { fatal: true })
function isUtf8(bytes: Uint8Array): boolean {
  try {
    utf8.decode(bytes)
    return true
  } catch {
    return false
  }
}
