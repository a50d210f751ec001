import { bytesText, MOST_AT_ONCE } from '../capture/index.ts'
import type { Problem } from '../core/problem.ts'
import type { RecordingEntry } from '../store/index.ts'
import { BYTES_A_SAMPLE, needText } from './desk/readLater.ts'

const countText = (samples: number): string => samples.toLocaleString('en-US')

type Length = Pick<RecordingEntry, 'id' | 'samples' | 'startS' | 'endS'>

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
