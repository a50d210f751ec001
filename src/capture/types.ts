import type { Rig } from '../core/calibration/rig.ts'
import type { Outcome, Problem } from '../core/problem.ts'
import type { Reading } from '../core/reading/document.ts'
import type { ChannelKind, Recording, RecordingInBlocks } from '../core/recording.ts'
import type { LogForceUnit } from '../core/units/force.ts'
import type { CaptureState } from './state.ts'

/** Who and what a recording is about: plain labels that the journal keeps and the store resolves. */
export interface About {
  readonly study: string | null
  readonly variant: string | null
  readonly specimen: string | null
  readonly operator: string | null
}

/**
 * The rig that a line belongs to: as it was when the line was opened, and its id in the store where it has
 * one.
 */
export interface LineRig {
  readonly id: string | null
  readonly document: Rig
}

/** What the next recording shall be. */
export interface RecordingPlan {
  readonly about: About
  /** The specimen in the store, where the caller knows it; its labels stand in `about`. */
  readonly specimenId: string | null
  /**
   * Force over the zero that starts an armed recording; `null`: chosen from the noise and the display step.
   */
  readonly startAtN: number | null
  /** Samples from this long before the start are kept. */
  readonly keepBeforeS: number
  /**
   * Loadings that the plan expects of this specimen. An automatic finish never comes before the last of them.
   */
  readonly pullsExpected: number
  /** Finish by itself after so long at rest; `null`: never. */
  readonly finishAfterRestS: number | null
  /** Equal load-bearing elements, for the reading at the end; `null`: not told. */
  readonly elements: number | null
}

/**
 * Samples as they came, for drawing. Times are seconds since the session was opened, by a clock that never
 * jumps.
 */
interface SampleBatch {
  readonly timeS: Float64Array
  /**
   * Indicated force, tension positive, without any zero taken off; counts where the unit is `counts` and no
   * calibration was given.
   */
  readonly forceN: Float64Array
}

/** The figures of this moment. Forces are above the live zero. */
export interface LiveFigures {
  readonly atS: number
  readonly forceN: number | null
  /** Greatest force since the recording began (since the session was opened while none runs). */
  readonly peakN: number | null
  /** Greatest force of the pull in hand. */
  readonly pullPeakN: number | null
  readonly rateNPerS: number | null
  /** Indicated force over the cell's capacity, as a share of it; `null` where no capacity is known. */
  readonly shareOfCapacity: number | null
  readonly zeroN: number | null
  readonly zeroFrom: 'rest' | 'operator' | 'none'
  /** Of the line. */
  readonly unit: LogForceUnit | null
  /**
   * What the forces here are in: counts only where the line sends those and no calibration turns them into
   * newton.
   */
  readonly forceIn: 'N' | 'counts'
  /** Latest value of the line's extension, and of its travel or of the turns tapped by hand. */
  readonly extensionMm: number | null
  readonly travelMm: number | null
  /** Turns of the drive tapped since the recording began; `null`: none was. */
  readonly turns: number | null
  /** Travel as a share of the rig's stroke; `null` where either is not known. */
  readonly shareOfStroke: number | null
  /** The line's other columns, as they are at this moment. */
  readonly channels: readonly LiveChannel[]
  readonly sampleRateHz: number | null
  readonly samples: number
  readonly troubles: Troubles
}

/** A column beside time and force. `value` is `null` where its last cell was empty. */
export interface LiveChannel {
  readonly name: string
  readonly kind: ChannelKind
  readonly unit: string
  readonly value: number | null
}

/** What the line did wrong since the recording began, counted. */
export interface Troubles {
  readonly lost: number
  readonly repeated: number
  readonly outOfOrder: number
  readonly garbled: number
  readonly resets: number
  readonly reopened: number
}

/**
 * A fall of force, told as soon as it is seen and told again, under the same `id`, when its kind is known.
 */
export interface LiveEvent {
  readonly id: number
  readonly kind: 'drop' | 'partial-break' | 'break' | 'slip' | 'unload' | 'none'
  /** False while the kind may still change. `none`, settled: it was no fall at all (a glitch). */
  readonly settled: boolean
  readonly atS: number
  readonly beforeN: number
  readonly afterN: number
  readonly dropN: number
  readonly confidence: number
}

export type AlarmCode =
  | 'not-on-disk'
  | 'little-room'
  | 'line-lost'
  | 'wrong-speed'
  | 'silent'
  | 'device-reset'
  | 'near-capacity'
  | 'over-capacity'

/** Something the operator must know now. The same code with `over` true takes it back. */
export interface Alarm extends Problem {
  readonly code: AlarmCode
  readonly atS: number
  readonly over: boolean
  /** It stands already and is told in other words: nothing to sound for. */
  readonly renewed: boolean
}

/** What a remark beside the samples is about. */
export type RemarkKind =
  /**
   * A line that holds no sample; `held`: one that is not clear before more have come; `garbled`: one that is
   * no text.
   */
  | 'line'
  | 'held'
  | 'garbled'
  | 'operator'
  | 'zero'
  /** A turn of the drive, tapped by hand. */
  | 'turn'
  | 'line-lost'
  | 'line-back'
  | 'device-reset'
  | 'trouble'

/** `told`: the program's own word. */
export type NoteKind = RemarkKind | 'told'

export interface LiveNote {
  readonly atS: number
  readonly of: NoteKind
  readonly text: string
}

/** The level that the operator took for zero. Forces as indicated. */
export interface ZeroTaken {
  readonly zeroN: number
  /** The zero before; `null`: there was none. */
  readonly beforeN: number | null
  /** Greatest less least force of the half second that it was taken from. */
  readonly spreadN: number
}

/** Turns of the drive, as tapped by hand. */
export interface TurnsTapped {
  readonly turns: number
  /** By the pitch of the rig's drive; `null` where it is not known. */
  readonly travelMm: number | null
}

/** Everything that a session tells: plain data, safe to send on. */
export type LiveMessage =
  | { readonly kind: 'samples'; readonly batch: SampleBatch }
  | { readonly kind: 'state'; readonly state: CaptureState }
  | { readonly kind: 'figures'; readonly figures: LiveFigures }
  | { readonly kind: 'event'; readonly event: LiveEvent }
  | { readonly kind: 'alarm'; readonly alarm: Alarm }
  | ({ readonly kind: 'note' } & LiveNote)
  /**
   * The load showed that the line counts tension the other way: all forces told so far have the other sign.
   */
  | { readonly kind: 'turned'; readonly sign: 1 | -1 }
  /** A recording has ended, whoever ended it: it is to be stored now. */
  | { readonly kind: 'captured'; readonly captured: Captured }
  | { readonly kind: 'closed'; readonly problem: Problem | null }

/**
 * What is known of a recording that has ended, or that was found in a journal left behind, beside its
 * samples.
 */
export interface CapturedFacts {
  readonly id: string
  readonly how: 'finished' | 'given-up' | 'recovered'
  /** Wall clock at the first sample kept, ISO 8601. */
  readonly startedAt: string
  /** The line that it came over, for people. */
  readonly source: string
  readonly about: About
  readonly specimenId: string | null
  /** What the plan told of its equal load-bearing elements. */
  readonly elements: number | null
  readonly rig: LineRig | null
  /** Greatest force that the cell may read, where it was told beside the rig or without one. */
  readonly capacityN: number | null
  /** Why it was given up. */
  readonly reason: string | null
}

/** A recording made of its journal, held whole. */
export interface CapturedWhole extends CapturedFacts {
  /** As the line gave it; `reading` is made of it by the rig. */
  readonly recording: Recording
  /**
   * The batch reading of the recording; the problem where there is none (raw counts without a calibration,
   * too few samples).
   */
  readonly reading: Outcome<Reading>
  readonly troubles: Troubles
  /**
   * The journal whole, byte for byte: what came over the line, with when it arrived. For the store; not for
   * viewers.
   */
  readonly log: Uint8Array
}

/** A recording that is too long to be held whole: it is made of its journal block by block. */
export interface CapturedLong extends CapturedFacts {
  readonly recording: null
  readonly long: RecordingInBlocks
  /** The journal, byte for byte, each time that it is asked for. */
  readonly log: () => AsyncIterable<Uint8Array>
}

/** A recording that has ended and of which nothing was made yet: all of it is in its journal. */
export interface CapturedUnmade extends CapturedFacts {
  readonly recording: null
  readonly long: null
}

/** A recording that has ended, with where its bytes are until it is in the store. */
export type Captured = (CapturedWhole | CapturedUnmade) & {
  /** Samples in its journal, repeated ones too. */
  readonly samples: number
  readonly keeping: Keeping
}

/**
 * The journal of a recording that has ended, until the recording is in the store. Where the disk would not
 * take all of it the rest is in memory, and tried again every second for as long as this process lives.
 */
export interface Keeping {
  /** The journal, or where it is to be. */
  readonly path: string
  /** Bytes that are in memory alone: 0 once all of it was synced to the disk. */
  readonly heldBytes: number
  /** Why they are; `null` where all of it is on the disk. */
  readonly trouble: Problem | null
  /** Fulfilled once all of it is on the disk. */
  readonly onDisk: Promise<void>
  /** Tries at once; why it is still not on the disk, else `null`. */
  tryNow(): Promise<Problem | null>
  /** Writes all of it into another folder, and lets the first go; why that could not be, else `null`. */
  moveTo(folder: string): Promise<Problem | null>
  /** The journal byte for byte, what is in memory alone too. */
  log(): AsyncIterable<Uint8Array>
  /** Removes the journal, once the recording is stored. */
  discard(): Promise<void>
  /** Tries no more: what is in memory alone is given up. */
  leave(): Promise<void>
}
