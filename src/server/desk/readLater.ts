import { bytesText, spanText } from '../../capture/session/room.ts'
import type { Problem } from '../../core/problem.ts'
import type { RecordingEntry } from '../../store/types.ts'

/**
 * Memory that a reading takes for each sample: its time, its force and what is worked out of them. Measured: the process
 * grew by 29 to 37 bytes a sample over readings of 2.4, 6.9 and 20 million samples without further columns.
 */
export const BYTES_A_SAMPLE = 50

export const needText = (samples: number): string => bytesText(BYTES_A_SAMPLE * samples)

/** Of a recording that was just stored and is too long to be read with that. `cure`: how it is read. */
export function readLater(
  { id, samples, startS, endS }: Pick<RecordingEntry, 'id' | 'samples' | 'startS' | 'endS'>,
  cure: string,
): Problem {
  const lasting = startS === null || endS === null ? '' : ` over ${spanText(endS - startS)}`
  return {
    where: `recording “${id}”`,
    what: `it is stored whole: ${samples.toLocaleString('en-US')} samples${lasting}. It is not read yet: that needs about ${needText(samples)} of memory.`,
    cure,
  }
}
