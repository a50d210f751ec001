import { extentIn, joinedExtent, NO_EXTENT } from '../../core/signal/extent.ts'
import { endsOf, type TensionSign, tensionSignOf } from '../../logs/meaning/tension.ts'
import { columnsOf, gathering } from '../gather.ts'
import type { Columns, Header, JournalEntry } from '../journal/entries.ts'
import { STAMPED_LEAST } from '../recordingFacts.ts'
import type { Troubles } from '../types.ts'

/** What is known of a long journal once it was gone through: enough to place its samples block by block. */
export interface Survey {
  readonly header: Header
  readonly columns: Columns
  readonly samples: number
  /** Whether enough samples carry a time of the device for its clock to count. */
  readonly isStamped: boolean
  readonly tension: TensionSign
  readonly troubles: Troubles
  /** Why it was given up. */
  readonly reason: string | null
}

/** First time through: the columns that there are, which decide what the numbers mean. */
export function columnSurvey() {
  const told: Columns[] = []
  return {
    take(entry: JournalEntry): void {
      if (entry.what === 'columns') told.push(entry)
    },
    columns: () => columnsOf(told),
  }
}

const AT_ONCE = 65_536

/**
 * Second time through: how many samples, how far the force goes, what went wrong. `most`: samples before
 * repeated ones go.
 */
export function forceSurvey(header: Header, columns: Columns, most: number) {
  const part = new Float64Array(AT_ONCE)
  let filled = 0
  let extent = NO_EXTENT
  let stamped = 0
  let reason: string | null = null
  const ends = endsOf(most)
  const flush = (): void => {
    extent = joinedExtent(extent, extentIn(part, 0, filled))
    filled = 0
  }
  const all = gathering(columns, {
    add({ value, stampS }) {
      if (!Number.isNaN(stampS)) stamped++
      ends.add(value)
      part[filled++] = value
      if (filled === AT_ONCE) flush()
    },
  })
  return {
    take(entry: JournalEntry): void {
      if (entry.what === 'end') reason ??= entry.reason
      all.take(entry)
    },
    survey(): Survey {
      flush()
      return {
        header,
        columns,
        samples: all.samples,
        isStamped: columns.stamps !== null && stamped > STAMPED_LEAST * all.samples,
        tension: tensionSignOf(ends.seen(), header.tension ?? undefined, extent),
        troubles: all.troubles,
        reason,
      }
    },
  }
}
