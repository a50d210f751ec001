import type { Outcome } from '../../core/problem.ts'
import type { FileLayer } from '../journal/files.ts'
import * as recovery from '../journal/recover.ts'
import type { Session, SessionOptions } from '../session/public.ts'
import { roomIn } from '../session/room.ts'
import { openSessionOn } from '../session.ts'
import type { CapturedFacts } from '../types.ts'
import { diskFiles } from './diskFiles.ts'
import { thisComputer } from './thisComputer.ts'

/**
 * What the capture does, on the computer that this program runs on. `files`: a disk that stands in for its
 * own.
 */

export const openSession = ({
  files = diskFiles,
  ...options
}: SessionOptions & { readonly files?: FileLayer }): Promise<Outcome<Session>> =>
  openSessionOn(thisComputer(files), options)

export const journalsIn = (folder: string, files = diskFiles): Promise<recovery.JournalsThere> =>
  recovery.journalsIn(folder, thisComputer(files))

export const journalInUse = (path: string, files = diskFiles) =>
  recovery.journalInUse(path, thisComputer(files))

export const openJournal = (path: string, how: CapturedFacts['how'], files = diskFiles) =>
  recovery.openJournal(path, how, files)

export const roomOn = (folder: string, rateHz: number | null, files = diskFiles) =>
  roomIn(folder, rateHz, files)
