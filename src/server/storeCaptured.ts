import { join } from 'node:path'
import { type Captured, type JournalsThere, journalsIn, openJournal } from '../capture/index.ts'
import { thisComputer } from '../capture/node/thisComputer.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import { type TakenIn, takeLeftBehind } from './desk/leftBehind.ts'
import { readLater } from './desk/readLater.ts'
import * as desk from './desk/storeCaptured.ts'
import { keepReading } from './specimenReading.ts'

/** Reads a specimen anew in this thread, and keeps the reading. */
export const readHere =
  (store: Store): desk.ReadSpecimen =>
  async specimenId => {
    const read = await keepReading(store, specimenId)
    return read.ok ? fine(read.value.reading) : read
  }

/** Takes a journal in, in this thread: whole, or block by block where it is too long. One that was long is not read yet. */
export const takeInHere =
  (store: Store): desk.TakeIn =>
  async (path, how) => {
    const opened = await openJournal(path, how)
    if (!opened.ok) return opened
    const captured = opened.value
    if (captured.recording !== null) return desk.storeMade(store, captured, readHere(store))
    const { long: recording } = captured
    return desk.storeBy(store, captured, null, {
      reading: entry =>
        wrong(
          readLater(entry, `It is read when it is opened, in the app or with: tenterhook show ${entry.id}`),
        ),
      save: about =>
        store.recordings.saveLong({ ...about, recording, log: captured.log(), scratchFolder: store.folder }),
    })
  }

/** Puts a recording that has ended into the store. May be called again for the same one: nothing is stored twice. */
export const storeCaptured = (store: Store, captured: Captured): Promise<Outcome<desk.StoredCaptured>> =>
  desk.storeCaptured(store, captured, readHere(store), takeInHere(store))

/** Takes every journal that a stopped program left behind into the store. */
export const recoverIntoStore = (
  store: Store,
  journals: string,
  takeIn: desk.TakeIn = takeInHere(store),
): Promise<TakenIn> => takeLeftBehind(journals, thisComputer(), takeIn)

/** Journals in the folder that another running program writes, and those that were left behind. Takes nothing in. */
export async function waitingJournals(storeFolder: string): Promise<JournalsThere> {
  return journalsIn(journalsFolder(storeFolder))
}

/** Where the journals of a store's captures lie. */
export const journalsFolder = (storeFolder: string): string => join(storeFolder, 'journals')
