import type { Outcome, Problem } from '../core/problem.ts'
import { capturedFrom } from './captured.ts'
import { diskProblem } from './journal/diskProblem.ts'
import type { Columns, End, Header, Remark } from './journal/entries.ts'
import type { FileLayer } from './journal/files.ts'
import { jsonFrame, type SampleBlock, samplesFrame } from './journal/frames.ts'
import { joined, startJournal } from './journal/writer.ts'
import type { Captured } from './types.ts'

export type Kept = { readonly what: 'samples'; readonly block: SampleBlock } | Columns | Remark

export interface Recorder {
  /** Resolves once its journal is there, or could not be made at the first try. */
  readonly begun: Promise<void>
  /** Keeps what came, at once; on disk within 200 ms. */
  keep(kept: Kept): void
  /** What was kept up to this call, made into a recording as `end` would; keeping goes on. */
  soFar(): Promise<Outcome<Captured>>
  /** Ends the recording and makes it from its journal, with what the disk would not take. */
  end(end: End): Promise<Outcome<Captured>>
  /** Closes the journal as it is, to be recovered at the next start. */
  leave(): Promise<void>
}

export interface RecorderOptions {
  readonly files: FileLayer
  readonly folder: string
  readonly header: Header
  readonly onTrouble: (problem: Problem | null) => void
}

/** One recording, from its first sample to its end. All that it keeps is its journal: memory does not grow. */
export function startRecorder({ files, folder, header, onTrouble }: RecorderOptions): Recorder {
  const journal = startJournal({ files, folder, id: header.id, header: jsonFrame(header), onTrouble })
  return {
    begun: journal.begun,
    keep(kept) {
      journal.append(kept.what === 'samples' ? samplesFrame(kept.block) : jsonFrame(kept))
    },
    soFar: async () => capturedFrom(await journal.kept(), journal.path, 'finished'),
    async end(end) {
      journal.append(jsonFrame(end))
      const notOnDisk = await journal.close()
      const onDisk = await files.read(journal.path).catch((error: unknown) => {
        if (notOnDisk.length === 0) throw error
        return new Uint8Array(0)
      })
      const captured = capturedFrom(joined([onDisk, notOnDisk]), journal.path, end.how)
      // A journal without a single sample holds nothing to recover.
      if (!captured.ok) await files.remove(journal.path).catch(() => {})
      return captured
    },
    async leave() {
      await journal.close()
    },
  }
}

/** Makes the folder of journals; the problem where it cannot be written to. */
export async function readyFolder(files: FileLayer, folder: string): Promise<Problem | null> {
  try {
    await files.makeFolder(folder)
    return null
  } catch (error) {
    return diskProblem(folder, error)
  }
}
