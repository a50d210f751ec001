import type { Outcome, Problem } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { LiveListener } from '../deliver.ts'
import type { JournalSoFar } from '../journal/soFar.ts'
import type { ThinCurve } from '../live/curve.ts'
import type { Makes } from '../recorder.ts'
import type { Source } from '../source.ts'
import type { CaptureState } from '../state.ts'
import type {
  Alarm,
  Captured,
  LineRig,
  LiveEvent,
  LiveFigures,
  LiveNote,
  RecordingPlan,
  TurnsTapped,
  ZeroTaken,
} from '../types.ts'

export interface SessionOptions {
  readonly source: Source
  /** Folder of the journals: beside the store, on a disk that survives a power cut. */
  readonly journals: string
  /** What the operator says of the line: unit, tension, decimal, rate, encoding. */
  readonly log?: LogOptions
  /** Greatest force that the cell may read, where it is another than that of the rig. */
  readonly capacityN?: number | null
  /**
   * Scales the live figures and the reading, and is kept with the recording; the recording keeps what the
   * line said.
   */
  readonly rig?: LineRig | null
  /** Asked of a device of our own protocol once it has greeted. */
  readonly askRateHz?: number | null
  /**
   * How long a recording that has ended is made at its end; longer ones, and with `none` all, by whoever
   * stores them.
   */
  readonly makes?: Makes
  /** Seconds of a clock that never jumps, and the wall clock. */
  readonly clock?: { readonly nowS: () => number; readonly wall: () => Date }
}

/** Everything a viewer needs who comes late. */
export interface Snapshot {
  /** `lost`: it went away by itself and is tried again; `closed`: it has come to its end. */
  readonly line: 'open' | 'lost' | 'closed'
  readonly state: CaptureState
  readonly plan: RecordingPlan | null
  readonly figures: LiveFigures
  readonly events: readonly LiveEvent[]
  readonly alarms: readonly Alarm[]
  /** Since the recording began, the newest last. */
  readonly notes: readonly LiveNote[]
  /**
   * Since a while before the recording began. It holds samples that `samples` messages may tell once more:
   * pass over those that are not later than its last.
   */
  readonly curve: ThinCurve
  /** Of the recording that runs, and that it will have in the store. */
  readonly recordingId: string | null
}

/**
 * One open line to a device, and the recordings made over it, one after the other. Commands that do not fit
 * the state are refused with a problem; nothing that the line, the disk or a listener does makes it throw.
 */
export interface Session {
  readonly source: Pick<Source, 'kind' | 'name'>
  subscribe(listener: LiveListener): () => void
  snapshot(): Snapshot
  /** Waits for the force to rise; samples from before are kept. */
  arm(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  disarm(): Outcome<CaptureState>
  /** Records from now on (and what came just before), by hand. */
  start(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  /**
   * Nothing pulls now, says the operator: the mean of the last half second becomes the live zero, and that is
   * noted. Refused where the force does not stand still, unless `anyway`. Never talks to the device.
   */
  zero(options?: { readonly anyway?: boolean }): Outcome<ZeroTaken>
  /** The drive was turned once more (1), or a tap too many is taken back (−1). */
  turn(by: 1 | -1): Outcome<TurnsTapped>
  note(text: string): Outcome<CaptureState>
  finish(): Promise<Outcome<Captured>>
  giveUp(reason: string): Promise<Outcome<Captured>>
  /**
   * What the recording came to that has ended since the line was armed last, once it is made: the state tells of the end
   * sooner. `null`: none has.
   */
  lastEnded(): Promise<Outcome<Captured> | null>
  /** The journal of the recording that runs as it is at this moment; it goes on. */
  soFar(): Promise<Outcome<SoFar>>
  /** Closes the line. A recording that runs stays in its journal and is recovered at the next start. */
  close(): Promise<void>
  /** Goes on with the journal in another folder; why that cannot be, else `null`. */
  moveJournal(folder: string): Promise<Problem | null>
  /** The journal being written; `null` while nothing is recorded. */
  readonly journal: string | null
}

/** A recording that still runs. */
export interface SoFar {
  readonly journal: JournalSoFar
  /** When its last sample came, on the axis of the live stream. */
  readonly lastSampleS: number
}

export const NO_PLAN: RecordingPlan = {
  about: { study: null, variant: null, specimen: null, operator: null },
  specimenId: null,
  startAtN: null,
  keepBeforeS: 5,
  pullsExpected: 1,
  finishAfterRestS: null,
  elements: null,
}
