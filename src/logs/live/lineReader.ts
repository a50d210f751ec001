import { printable } from '../../core/printable.ts'
import { problemText } from '../../core/problem.ts'
import { decodeSpan } from '../lines/decode.ts'
import type { LogOptions } from '../options.ts'
import type { LineItem, LineSample } from './lineItem.ts'
import { type LineLikeness, type LineMeaning, understandLines } from './lineMeaning.ts'

export interface LineReader {
  /** Takes bytes as they arrive, cut anywhere. Gives what became clear by them, in order. */
  push(chunk: Uint8Array, arrivedS: number): LineItem[]
  /** The same for one whole line, `bytes[from…to)`, without its end. */
  line(bytes: Uint8Array, from: number, to: number, arrivedS: number): LineItem[]
  /**
   * The sample of a whole line that differs from the last one which gave a sample in nothing but its numbers:
   * much faster. The object is used again for the next. `null`: the line is to be given to `line`.
   */
  alike(bytes: Uint8Array, from: number, to: number): LineSample | null
}

interface HeldLine {
  readonly text: string
  readonly line: number
  readonly arrivedS: number
}

const LONGEST_LINE = 64 * 1024
/** Lines held while it is not clear which number is the force; then the reader says so and goes on trying. */
const MOST_HELD = 40
const LF = 10
const CR = 13

/**
 * Reads lines from a rig while it runs, with the file reader's own understanding of numbers, units, stamps
 * and headers. Where a line does not speak for itself, the first few are held until the columns are told
 * apart.
 */
export function createLineReader(options: LogOptions = {}): LineReader {
  const decoder = options.encoding === undefined ? null : new TextDecoder(options.encoding)
  const encoder = new TextEncoder()
  const buffer = new Uint8Array(LONGEST_LINE)
  let length = 0
  let cut = false
  let afterCr = false
  let line = 0
  let held: HeldLine[] = []
  let meaning: LineMeaning | null = null
  let likeness: LineLikeness | null = null
  let toldProblem = ''

  const endLine = (arrivedS: number, items: LineItem[]): void => {
    const text = decodeSpan(buffer, 0, length)
    length = 0
    if (cut) {
      cut = false
      line++
      items.push({
        kind: 'note',
        line,
        text: `${printable(text)} (a line over ${LONGEST_LINE} bytes, cut)`,
        arrivedS,
      })
      return
    }
    takeText(text, arrivedS, items)
  }

  const takeText = (text: string, arrivedS: number, items: LineItem[]): void => {
    line++
    const taken = meaning?.take(text, line, arrivedS) ?? []
    if (meaning?.isOver()) meaning = null
    if (meaning) {
      items.push(...taken)
      const [sample] = taken
      likeness = taken.length === 1 && sample?.kind === 'sample' ? meaning.like(text, sample) : null
    } else {
      likeness = null
      held.push({ text, line, arrivedS })
      tryToUnderstand(items)
    }
  }

  const tryToUnderstand = (items: LineItem[]): void => {
    const found = understandLines(
      held.map(({ text }) => text),
      options,
      held[0]?.line,
    )
    if (found?.ok) {
      meaning = found.value
      for (const { text, line: at, arrivedS } of held) items.push(...meaning.take(text, at, arrivedS))
      held = []
      return
    }
    if (held.length < MOST_HELD) return
    const problem = found ? problemText(found.problems[0]!) : 'no numbers in the lines so far'
    const oldest = held.splice(0, MOST_HELD / 2)
    for (const { text, line: at, arrivedS } of oldest) {
      if (text.trim() !== '') items.push({ kind: 'note', line: at, text: printable(text, 500), arrivedS })
    }
    if (problem !== toldProblem) {
      toldProblem = problem
      items.push({ kind: 'note', line, text: problem, arrivedS: oldest.at(-1)?.arrivedS ?? 0 })
    }
  }

  return {
    line(bytes, from, to, arrivedS) {
      const items: LineItem[] = []
      takeText(decodeSpan(bytes, from, to), arrivedS, items)
      return items
    },
    alike(bytes, from, to) {
      const sample = likeness?.take(bytes, from, to) ?? null
      if (sample) line++
      return sample
    },
    push(chunk, arrivedS) {
      const items: LineItem[] = []
      const bytes = decoder ? encoder.encode(decoder.decode(chunk, { stream: true })) : chunk
      for (const byte of bytes) {
        if (byte === LF && afterCr) {
          afterCr = false
          continue
        }
        afterCr = byte === CR
        if (byte === LF || byte === CR) endLine(arrivedS, items)
        else if (length < LONGEST_LINE) buffer[length++] = byte
        else cut = true
      }
      return items
    },
  }
}
