import { capturedFrom } from '../../capture/captured.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { JournalReading } from './heavyReadTypes.ts'

/** What the bytes of a journal read as: a recording that still runs. */
export function readJournal(log: Uint8Array): Outcome<JournalReading> {
  const captured = capturedFrom(log, 'the journal', 'finished')
  if (!captured.ok) return captured
  const { recording, reading } = captured.value
  return fine({ endS: recording.timeS.at(-1) ?? null, reading })
}
