const LF = 10
const CR = 13
/** A longer line is no line: it is handed on in pieces, so that memory stays bounded. */
const LONGEST_LINE = 4_096

/** A whole line, without its end, within `bytes`. */
export type TakeLine = (bytes: Uint8Array, from: number, to: number) => void

/**
 * Cuts bytes, however they come, into lines ended by LF, CR or both. Gives each line to `take`; empty ones
 * too, but never twice for one CR LF. `odd` counts bytes that no text holds, for telling a wrong speed.
 */
export function cutLines(take: TakeLine): {
  push(chunk: Uint8Array): void
  /** The line went away: gives up what came of a line whose end will never come, and gives it back. */
  drop(): Uint8Array
  readonly odd: number
  readonly all: number
} {
  const carry = new Uint8Array(LONGEST_LINE)
  let carried = 0
  let afterCr = false
  let odd = 0
  let all = 0
  return {
    push(chunk) {
      all += chunk.length
      let from = 0
      for (let i = 0; i < chunk.length; i++) {
        const byte = chunk[i]!
        if (byte >= 32 && byte < 127) {
          afterCr = false
          if (carried + i - from < LONGEST_LINE - 1) continue
          // Too long: cut here, this byte with it.
          from = end(chunk, from, i + 1)
          continue
        }
        if (byte === LF && afterCr) {
          afterCr = false
          from = i + 1
          continue
        }
        afterCr = byte === CR
        if (byte === LF || byte === CR) {
          end(chunk, from, i)
          from = i + 1
        } else {
          if (byte !== 9) odd++
          if (carried + i - from >= LONGEST_LINE - 1) from = end(chunk, from, i + 1)
        }
      }
      carry.set(chunk.subarray(from), carried)
      carried += chunk.length - from
    },
    drop() {
      const dropped = carry.slice(0, carried)
      carried = 0
      return dropped
    },
    get odd() {
      return odd
    },
    get all() {
      return all
    },
  }

  function end(chunk: Uint8Array, from: number, to: number): number {
    if (carried === 0) take(chunk, from, to)
    else {
      carry.set(chunk.subarray(from, to), carried)
      take(carry, 0, carried + to - from)
      carried = 0
    }
    return to
  }
}
