import type { Outcome } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { LiveListener } from '../deliver.ts'
import type { FileLayer } from '../journal/files.ts'
import type { ThinCurve } from '../live/curve.ts'
import type { Source } from '../source.ts'
import type { CaptureState } from '../state.ts'
import type { Alarm, Captured, LiveEvent, LiveFigures, RecordingPlan } from '../types.ts'

export interface SessionOptions {
  readonly source: Source
  /** Folder of the journals: beside the store, on a disk that survives a power cut. */
  readonly journals: string
  /** What the operator says of the line: unit, tension, decimal, rate, encoding. */
  readonly log?: LogOptions
  readonly capacityN?: number | null
  /** For a line of raw counts: force in newton, for the live figures only; the recording keeps the counts. */
  readonly countsToN?: ((counts: number) => number) | null
  /** Asked of a device of our own protocol once it has greeted. */
  readonly askRateHz?: number | null
  readonly files?: FileLayer
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
  readonly curve: ThinCurve
}

/**
 * One open line to a device, and the recordings made over it, one after the other. Commands that do not fit the state
 * are refused with a problem; nothing that the line, the disk or a listener does makes it throw.
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
  /** Nothing pulls now, says the operator: the live zero is taken anew and noted. Never talks to the device. */
  zero(): Outcome<CaptureState>
  note(text: string): Outcome<CaptureState>
  finish(): Promise<Outcome<Captured>>
  giveUp(reason: string): Promise<Outcome<Captured>>
  /** Closes the line. A recording that runs stays in its journal and is recovered at the next start. */
  close(): Promise<void>
  /** The journal being written, for `recoverJournals`; `null` while nothing is recorded. */
  readonly journal: string | null
}

export const NO_PLAN: RecordingPlan = {
  about: { study: null, variant: null, specimen: null, operator: null },
  startAtN: null,
  keepBeforeS: 5,
  pullsExpected: 1,
  finishAfterRestS: null,
  elements: null,
}
