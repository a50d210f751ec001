import type {
  CaptureState,
  EndedRecording,
  Line,
  LineState,
  Plan,
  PortList,
  Problem,
  SpecimenCommand,
  TurnsTapped,
  ViewerMessage,
  ZeroTaken,
} from '../../server/apiTypes.ts'
import type { PagePort } from './pagePort.ts'

/** Where recordings are copied to, and how that went. */
export interface CopyState {
  readonly folder: string
  /** The file that was copied last; `null`: none yet. */
  readonly file: string | null
  readonly problem: Problem | null
}

/** A copy of each recording, as a file in a folder of this computer. */
export interface DiskCopy {
  /** Asks the person for the folder; only from a press. Rejects where none was chosen. */
  choose(): Promise<void>
  /** `null`: no folder was chosen. */
  readonly state: CopyState | null
  onState(listener: () => void): () => void
}

/** What was done with journals that a window left behind. */
export interface Recovered {
  readonly recordings: readonly { readonly name: string; readonly samples: number }[]
  readonly problems: readonly Problem[]
}

/**
 * Who has the line to the rig: the server, or a worker of the page that opens from disk. Each command rejects with a
 * `Trouble` that says why it was refused; what it brought about is told on the stream too.
 */
export interface LineHost {
  readonly kind: 'server' | 'page'
  /** Serial ports of the server’s computer; `null` where there is no server. */
  readonly ports: (() => Promise<PortList>) | null
  /** A serial port that this browser gives to the page. */
  readonly port: PagePort
  line(): Promise<LineState>
  /** A port of this page is opened first: only from a press, since the person may have to choose it. */
  open(line: Line): Promise<LineState>
  close(): Promise<LineState>
  arm(plan: Plan): Promise<CaptureState>
  disarm(): Promise<CaptureState>
  start(plan: Plan): Promise<CaptureState>
  zero(anyway: boolean): Promise<ZeroTaken>
  turn(by: 1 | -1): Promise<TurnsTapped>
  note(text: string): Promise<CaptureState>
  finish(): Promise<EndedRecording>
  giveUp(why: string): Promise<EndedRecording>
  redo(why: string): Promise<SpecimenCommand>
  spoil(why: string): Promise<SpecimenCommand>
  /** Joins the live stream and stays joined; each time that it is back it begins with a snapshot. */
  join(on: {
    readonly onMessage: (message: ViewerMessage) => void
    /** Whoever has the line does not answer. */
    readonly onAway: () => void
  }): { leave(): void }
  /** Recordings that have ended and are not in the store. */
  readonly unsaved: {
    /** Tries all of them at once. */
    tryNow(): Promise<unknown>
    /** Keeps one in another folder of the server’s computer; `null` where there is none. */
    readonly keepIn: ((recordingId: string, folder: string) => Promise<unknown>) | null
    /** Its journal, whole, to be saved elsewhere. */
    journal(recordingId: string): Promise<Blob>
  }
  /** A copy of each recording as a file; `null` where the server keeps journals itself, or the browser gives no folder. */
  readonly copy: DiskCopy | null
  /** What was made whole of recordings that a window left behind; `null`: the server does that before it opens. */
  readonly recovered: Promise<Recovered> | null
  /** Addresses for a second screen, each good for one scan; `null`: it needs a server. */
  readonly screenLinks: (() => Promise<{ readonly code: string; readonly links: readonly string[] }>) | null
}
