import type { JournalSoFar } from '../../capture/journal/soFar.ts'
import type { Outcome } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { ReadSpecimen, TakeIn } from './storeCaptured.ts'

/** Readings that are made beside, so that they never hold up a capture. */
export interface HeavyReads {
  /** What a journal reads as that is still written. */
  readJournal(journal: JournalSoFar): Promise<Outcome<JournalReading>>
  /** Reads a specimen anew, of all its recordings, and keeps the reading. */
  readonly readSpecimen: ReadSpecimen
  /** Makes recordings of their journals and stores them; left out where there is no thread for it. */
  readonly takeIn?: TakeIn
}

/** What a journal reads as so far. */
export interface JournalReading {
  readonly endS: number | null
  readonly reading: Outcome<Reading>
}
