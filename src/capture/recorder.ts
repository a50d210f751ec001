import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import { capturedFrom, factsOf, recordingName } from './captured.ts'
import { diskProblem } from './journal/diskProblem.ts'
import type { Columns, End, Header, Remark } from './journal/entries.ts'
import type { FileLayer } from './journal/files.ts'
import { jsonFrame, type SampleBlock, samplesFrame } from './journal/frames.ts'
import type { JournalSoFar } from './journal/soFar.ts'
import { type Journal, startJournal } from './journal/writer.ts'
import { MOST_AT_ONCE } from './long/assembleLong.ts'
import { noSample } from './problems.ts'
import type { Captured, Keeping } from './types.ts'

export type Kept = { readonly what: 'samples'; readonly block: SampleBlock } | Columns | Remark

export interface Recorder {
  /** Resolves once its journal is there, or could not be made at the first try. */
  readonly begun: Promise<void>
  readonly journal: Pick<Journal, 'path' | 'heldBytes' | 'trouble' | 'moveTo'>
  /** Keeps what came, at once; on disk within 200 ms. */
  keep(kept: Kept): void
  /** The journal with all that was kept up to this call; keeping goes on. */
  soFar(): JournalSoFar
  /**
   * Ends the recording and makes it from its journal, with what the disk would not take yet, where it is to
   * be made here.
   */
  end(end: End): Promise<Outcome<Captured>>
  /** Closes the journal as it is, to be recovered at the next start. */
  leave(): Promise<void>
}

/**
 * Which recordings are made of their journals when they end. Those that are too long to be held whole, or
 * whose making would hold up what goes on beside, are made by whoever stores them.
 */
export type Makes = 'all' | 'short' | 'none'

export interface RecorderOptions {
  readonly files: FileLayer
  readonly folder: string
  readonly header: Header
  readonly makes: Makes
  readonly onTrouble: (problem: Problem | null) => void
}

/**
 * One recording, from its first sample to its end. All that it keeps is its journal: memory does not grow.
 */
export function startRecorder({ files, folder, header, makes, onTrouble }: RecorderOptions): Recorder {
  let samples = 0
  const journal = startJournal({ files, folder, id: header.id, header: jsonFrame(header), onTrouble })
  const keeping = keepingOf(journal)
  return {
    begun: journal.begun,
    journal,
    keep(kept) {
      if (kept.what === 'samples') samples += kept.block.values.length
      journal.append(kept.what === 'samples' ? samplesFrame(kept.block) : jsonFrame(kept))
    },
    soFar: () => journal.soFar(),
    async end(end) {
      journal.append(jsonFrame(end))
      await journal.end()
      const rest = { samples, keeping }
      if (samples > 0 && (makes === 'none' || (makes === 'short' && samples > MOST_AT_ONCE)))
        return fine({ ...factsOf(header, end.how, end.reason), recording: null, long: null, ...rest })
      const made =
        samples === 0
          ? wrong(noSample(recordingName(header)))
          : capturedFrom(await journal.kept(), journal.path, end.how)
      // A journal without a single sample holds nothing to recover.
      if (!made.ok) await journal.discard().catch(() => {})
      return made.ok ? fine({ ...made.value, ...rest }) : made
    },
    leave: () => journal.leave(),
  }
}

const keepingOf = (journal: Journal): Keeping => ({
  get path() {
    return journal.path
  },
  get heldBytes() {
    return journal.heldBytes
  },
  get trouble() {
    return journal.trouble
  },
  onDisk: journal.onDisk,
  tryNow: () => journal.end(),
  moveTo: folder => journal.moveTo(folder),
  log: () => journal.pieces(),
  discard: () => journal.discard(),
  leave: () => journal.leave(),
})

/** Makes the folder of journals; the problem where it cannot be written to. */
export async function readyFolder(files: FileLayer, folder: string): Promise<Problem | null> {
  try {
    await files.makeFolder(folder)
    return null
  } catch (error) {
    return diskProblem(folder, error, files)
  }
}
