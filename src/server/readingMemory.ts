import { bytesText, MOST_AT_ONCE, spanText } from '../capture/index.ts'
import type { Problem } from '../core/problem.ts'
import type { RecordingEntry } from '../store/index.ts'

/**
 * Memory that a reading takes for each sample: its time, its force and what is worked out of them. Measured: the process
 * grew by 29 to 37 bytes a sample over readings of 2.4, 6.9 and 20 million samples without further columns.
 */
const BYTES_A_SAMPLE = 50

const needText = (samples: number): string => bytesText(BYTES_A_SAMPLE * samples)
const countText = (samples: number): string => samples.toLocaleString('en-US')

type Length = Pick<RecordingEntry, 'id' | 'samples' | 'startS' | 'endS'>

/** Of a recording that was just stored and is too long to be read with that. */
export function readLater({ id, samples, startS, endS }: Length): Problem {
  const lasting = startS === null || endS === null ? '' : ` over ${spanText(endS - startS)}`
  return {
    where: `recording “${id}”`,
    what: `it is stored whole: ${countText(samples)} samples${lasting}. It is not read yet: that needs about ${needText(samples)} of memory.`,
    cure: `It is read when it is opened, in the app or with: tenterhook show ${id}`,
  }
}

/** Memory that this process may still take; infinite where the system does not tell. */
const freeBytes = (): number => globalThis.process?.availableMemory?.() ?? Number.POSITIVE_INFINITY

/** Why logs of so many samples cannot be read now; `null` where they can. */
export function tooLongToRead(
  entries: readonly Length[],
  availableBytes: number = freeBytes(),
): Problem | null {
  const samples = entries.reduce((n, entry) => n + entry.samples, 0)
  if (samples <= MOST_AT_ONCE || BYTES_A_SAMPLE * samples <= availableBytes) return null
  return {
    where: entries.map(({ id }) => `recording “${id}”`).join(', '),
    what: `reading its ${countText(samples)} samples needs about ${needText(samples)} of memory, and ${bytesText(availableBytes)} are free.`,
    cure: 'Close other programs, or read it on another computer: `tenterhook export --as log` gives its bytes as received.',
  }
}
