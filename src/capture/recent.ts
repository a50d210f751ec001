import type { Columns, Remark } from './journal/entries.ts'
import type { SampleBlock } from './journal/frames.ts'
import type { Kept } from './recorder.ts'

/** Longest and most that is kept of what came before a recording begins. */
const KEEP_BEFORE_MOST_S = 60
const MOST_SAMPLES = 2_000_000
/** Entries let go before the list is made anew. */
const TIDY_AFTER = 1_000

export interface Recent {
  block(block: SampleBlock): void
  remark(remark: Remark): void
  columns(columns: Columns): void
  /** What came from a moment on, led by the columns in force then. */
  since(fromS: number): Kept[]
  /** Forgets all but the columns in force. */
  clear(): void
}

/** What came over the line lately, in bounded room: a recording that begins takes it in. */
export function keepRecent(): Recent {
  let entries: { atS: number; kept: Kept; samples: number }[] = []
  let first = 0
  let samples = 0
  /** Columns in force before the oldest entry. */
  let before: Columns | null = null

  const letGo = (newestS: number): void => {
    while (first < entries.length) {
      const oldest = entries[first]!
      if (oldest.atS >= newestS - KEEP_BEFORE_MOST_S && samples <= MOST_SAMPLES) break
      if (oldest.kept.what === 'columns') before = oldest.kept
      samples -= oldest.samples
      first++
    }
    if (first < TIDY_AFTER) return
    entries = entries.slice(first)
    first = 0
  }
  const add = (atS: number, kept: Kept, count: number): void => {
    entries.push({ atS, kept, samples: count })
    samples += count
    letGo(atS)
  }
  const lastS = (): number => entries.at(-1)?.atS ?? 0
  return {
    block: block => add(block.arrivedS, { what: 'samples', block }, block.values.length),
    remark: remark => add(remark.atS, remark, 0),
    columns: columns => add(lastS(), columns, 0),
    since(fromS) {
      let columns = before
      let from = first
      for (; from < entries.length && entries[from]!.atS < fromS; from++) {
        const { kept } = entries[from]!
        if (kept.what === 'columns') columns = kept
      }
      const kept = entries.slice(from).map(entry => entry.kept)
      return columns ? [columns, ...kept] : kept
    },
    clear() {
      for (const { kept } of entries.slice(first)) if (kept.what === 'columns') before = kept
      entries = []
      first = 0
      samples = 0
    },
  }
}
