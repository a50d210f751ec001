import { join } from 'node:path'
import {
  type Captured,
  discardJournal,
  type JournalsThere,
  journalsIn,
  NOTHING_IN_JOURNAL,
  openJournal,
  putAside,
} from '../capture/index.ts'
import { type Outcome, wrong } from '../core/problem.ts'
import { type RecordingEntry, type Store, StoreFault } from '../store/index.ts'
import * as desk from './desk/storeCaptured.ts'
import { readLater } from './readingMemory.ts'
import { keepReading } from './specimenReading.ts'

/** Reads a specimen anew in this thread. */
export const readHere =
  (store: Store): desk.ReadSpecimen =>
  async specimenId => {
    const read = await keepReading(store, specimenId)
    return read.ok ? [] : read.problems
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
      reading: entry => wrong(readLater(entry)),
      save: about =>
        store.recordings.saveLong({ ...about, recording, log: captured.log(), scratchFolder: store.folder }),
    })
  }

/** Puts a recording that has ended into the store. May be called again for the same one: nothing is stored twice. */
export const storeCaptured = (store: Store, captured: Captured): Promise<Outcome<desk.StoredCaptured>> =>
  desk.storeCaptured(store, captured, readHere(store), takeInHere(store))

/**
 * Takes every journal that a stopped program left behind into the store, one after the other. One that holds nothing to be
 * taken in stays, out of the way.
 */
export async function recoverIntoStore(
  store: Store,
  journals: string,
  takeIn: desk.TakeIn = takeInHere(store),
): Promise<desk.TakenIn> {
  const there = await journalsIn(journals)
  const recovered: RecordingEntry[] = []
  const problems = [...there.problems]
  for (const path of there.left) {
    try {
      const stored = await takeIn(path, 'recovered')
      problems.push(...(stored.ok ? stored.value.problems : stored.problems))
      if (stored.ok) {
        recovered.push(stored.value.entry)
        await discardJournal(path).catch((error: unknown) => problems.push(desk.notRemoved(path, error)))
      } else if (stored.problems.some(({ code }) => code === NOTHING_IN_JOURNAL)) await putAside(path)
    } catch (error) {
      if (!(error instanceof StoreFault)) throw error
      problems.push(desk.leftInJournal(error.problem, path))
    }
  }
  return { recovered, problems, inUse: there.inUse }
}

/** Journals in the folder that another running program writes, and those that were left behind. Takes nothing in. */
export async function waitingJournals(storeFolder: string): Promise<JournalsThere> {
  return journalsIn(journalsFolder(storeFolder))
}

/** Where the journals of a store's captures lie. */
export const journalsFolder = (storeFolder: string): string => join(storeFolder, 'journals')
