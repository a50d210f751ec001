import { join } from 'node:path'
import { type Captured, type JournalsThere, journalsIn, recoverJournals } from '../capture/index.ts'
import type { Outcome } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import * as desk from './desk/storeCaptured.ts'
import { keepReading } from './specimenReading.ts'

/** Reads a specimen anew in this thread. */
export const readHere =
  (store: Store): desk.ReadSpecimen =>
  async specimenId => {
    const read = await keepReading(store, specimenId)
    return read.ok ? [] : read.problems
  }

/** Puts a recording that has ended into the store. May be called again for the same one: nothing is stored twice. */
export const storeCaptured = (store: Store, captured: Captured): Promise<Outcome<desk.StoredCaptured>> =>
  desk.storeCaptured(store, captured, readHere(store))

/** Takes every journal that a stopped program left behind into the store. */
export const recoverIntoStore = async (store: Store, journals: string): Promise<desk.TakenIn> =>
  desk.takeRecovered(store, await recoverJournals(journals), readHere(store))

/** Journals in the folder that another running program writes, and those that were left behind. Takes nothing in. */
export async function waitingJournals(storeFolder: string): Promise<JournalsThere> {
  return journalsIn(journalsFolder(storeFolder))
}

/** Where the journals of a store's captures lie. */
export const journalsFolder = (storeFolder: string): string => join(storeFolder, 'journals')
