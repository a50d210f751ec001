import { openJournal } from '../../capture/journal/recover.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import { readLater } from '../../server/desk/readLater.ts'
import {
  type ReadSpecimen,
  type StoredCaptured,
  storeBy,
  storeMade,
  type TakeIn,
} from '../../server/desk/storeCaptured.ts'
import { keepLong } from '../data/page/recordings.ts'
import { problemsOf } from '../data/trouble.ts'
import { liveOf, pageDeskStore } from './deskStore.ts'
import { pageFiles } from './pageFiles.ts'

/**
 * Makes the recording of a journal in the browser’s storage and keeps it: whole, or block by block where it is too long.
 * To be run beside the line’s thread, which has the next recording to look after.
 */
export const takeInPage =
  (read: ReadSpecimen): TakeIn =>
  async (path, how): Promise<Outcome<StoredCaptured>> => {
    const opened = await openJournal(path, how, pageFiles)
    if (!opened.ok) return opened
    const captured = opened.value
    if (captured.recording !== null) return storeMade(pageDeskStore, captured, read)
    const { long: recording, id, log } = captured
    return storeBy(pageDeskStore, captured, null, {
      reading: entry => wrong(readLater(entry, 'It is read when its specimen is opened at Read.')),
      async save(about) {
        try {
          const { specimenId = null, rigId = null, logOptions } = about
          const options: LogOptions = logOptions ?? {}
          const live = { ...liveOf(about), id }
          return fine(
            await keepLong({ recording, log: log(), options, specimenId, rigId, calibration: null, live }),
          )
        } catch (error) {
          return wrong(...problemsOf(error))
        }
      },
    })
  }
