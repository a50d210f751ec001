import type { JournalSoFar } from '../../capture/journal/soFar.ts'
import type { CapturedFacts } from '../../capture/types.ts'
import type { Outcome } from '../../core/problem.ts'
import type {
  CaptureState,
  EndedRecording,
  ImportedArchive,
  Line,
  LineState,
  Plan,
  SpecimenCommand,
  TurnsTapped,
  ZeroTaken,
} from '../../server/apiTypes.ts'
import type { JournalReading } from '../../server/desk/heavyReadTypes.ts'
import type { StoredCaptured } from '../../server/desk/storeCaptured.ts'
import type { Answer, Engine } from '../engine/types.ts'
import type { Recovered } from '../live/lineHost.ts'

/** The engine of the page, which also does what a server does beside: a page has no other thread to spare. */
export interface PageEngine extends Engine {
  readJournal(journal: JournalSoFar): Promise<Answer<JournalReading>>
  /** Makes the recording of a journal and keeps it. */
  takeIn(path: string, how: CapturedFacts['how']): Promise<Answer<StoredCaptured>>
  /** All that the page keeps as one file, and such a file taken in. */
  saveWhole(): Promise<Answer<Blob>>
  takeWhole(file: File): Promise<Answer<ImportedArchive>>
}

/** The line of a page, in a worker of its own: what crosses is plain data. */
export interface PageDesk {
  /** First of all. `engine`: where it is read, so that reading never holds up a sample. */
  begin(engine: MessagePort): Promise<Recovered>
  line(): Promise<LineState>
  open(line: Line): Promise<Outcome<LineState>>
  close(): Promise<Outcome<LineState>>
  arm(plan: Plan): Promise<Outcome<CaptureState>>
  disarm(): Promise<Outcome<CaptureState>>
  start(plan: Plan): Promise<Outcome<CaptureState>>
  zero(anyway: boolean): Promise<Outcome<ZeroTaken>>
  turn(by: 1 | -1): Promise<Outcome<TurnsTapped>>
  note(text: string): Promise<Outcome<CaptureState>>
  finish(): Promise<Outcome<EndedRecording>>
  giveUp(why: string): Promise<Outcome<EndedRecording>>
  redo(why: string): Promise<Outcome<SpecimenCommand>>
  spoil(why: string): Promise<Outcome<SpecimenCommand>>
  /** A viewer of the live stream. It is sent JSON text, and says how many letters it has taken; `null`: it leaves. */
  join(viewer: MessagePort): Promise<void>
  /** A window that reads a serial port. See `portChannel.ts`. False where one does already. */
  joinPort(port: MessagePort): Promise<boolean>
  tryNow(): Promise<void>
  journal(recordingId: string): Promise<Outcome<Uint8Array>>
}
