import { capturedFrom } from '../../capture/captured.ts'
import type { FileLayer } from '../../capture/journal/files.ts'
import { type JournalSoFar, readSoFar } from '../../capture/journal/soFar.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { JournalReading } from './heavyReadTypes.ts'

/** What a journal reads as: a recording that still runs. */
export async function readJournal(journal: JournalSoFar, files: FileLayer): Promise<Outcome<JournalReading>> {
  const log = await readSoFar(files, journal)
  if (!log.ok) return log
  const captured = capturedFrom(log.value, 'the journal', 'finished')
  if (!captured.ok) return captured
  const { recording, reading } = captured.value
  return fine({ endS: recording.timeS.at(-1) ?? null, reading })
}
