import type { Outcome, Problem } from '../core/problem.ts'
import type { Reading } from '../core/reading/document.ts'
import type { Recording } from '../core/recording.ts'
import type { LogForceUnit } from '../core/units/force.ts'
import type { CaptureState } from './state.ts'

/** Who and what a recording is about: plain labels that the journal keeps and the store resolves. */
export interface About {
  readonly study: string | null
  readonly variant: string | null
  readonly specimen: string | null
  readonly operator: string | null
}

/** What the next recording shall be. */
export interface RecordingPlan {
  readonly about: About
  /** Force over the zero that starts an armed recording; `null`: chosen from the noise and the display step. */
  readonly startAtN: number | null
  /** Samples from this long before the start are kept. */
  readonly keepBeforeS: number
  /** Loadings that the plan expects of this specimen. An automatic finish never comes before the last of them. */
  readonly pullsExpected: number
  /** Finish by itself after so long at rest; `null`: never. */
  readonly finishAfterRestS: number | null
  /** Equal load-bearing elements, for the reading at the end; `null`: not told. */
  readonly elements: number | null
}

/** Samples as they came, for drawing. Times are seconds since the session was opened, by a clock that never jumps. */
interface SampleBatch {
  readonly timeS: Float64Array
  /** Indicated force, tension positive, without any zero taken off; counts where the unit is `counts` and no calibration was given. */
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
  readonly unit: LogForceUnit | null
  readonly sampleRateHz: number | null
  readonly samples: number
  readonly troubles: Troubles
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

/** A fall of force, told as soon as it is seen and told again, under the same `id`, when its kind is known. */
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
}

/** Everything that a session tells: plain data, safe to send on. */
export type LiveMessage =
  | { readonly kind: 'samples'; readonly batch: SampleBatch }
  | { readonly kind: 'state'; readonly state: CaptureState }
  | { readonly kind: 'figures'; readonly figures: LiveFigures }
  | { readonly kind: 'event'; readonly event: LiveEvent }
  | { readonly kind: 'alarm'; readonly alarm: Alarm }
  | { readonly kind: 'note'; readonly atS: number; readonly text: string }
  /** A recording has ended, whoever ended it: it is to be stored now. */
  | { readonly kind: 'captured'; readonly captured: Captured }
  | { readonly kind: 'closed'; readonly problem: Problem | null }

/** A recording that has ended, or that was found in a journal left behind. */
export interface Captured {
  readonly id: string
  readonly how: 'finished' | 'given-up' | 'recovered'
  /** Wall clock at the first sample kept, ISO 8601. */
  readonly startedAt: string
  readonly about: About
  /** What the plan told of its equal load-bearing elements. */
  readonly elements: number | null
  readonly recording: Recording
  /** The batch reading of the recording; the problem where there is none (raw counts, too few samples). */
  readonly reading: Outcome<Reading>
  readonly troubles: Troubles
  /** The journal whole, byte for byte: what came over the line, with when it arrived. For the store; not for viewers. */
  readonly log: Uint8Array
  /** Journal to be removed, by `discardJournal`, once the recording is stored. */
  readonly journal: string
}
