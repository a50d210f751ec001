import type { Problem } from '../../core/problem.ts'
import type { Adjustment } from '../../core/reading/adjustmentDocument.ts'
import type { CurveOrigins } from '../../core/reading/curveOrigins.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { JoinedCurve } from '../../core/reading/joinedCurve.ts'
import type { Stretch } from '../../core/reading/states.ts'
import type { ZeroChoice } from '../../core/reading/zeroWords.ts'
import type { Assumption, Channel, Note, Recording, Segment } from '../../core/recording.ts'
import type { Thinned } from '../../core/signal/pyramid.ts'
import type { ComparedStudy, StudyComparison } from '../../core/statistics/compare/compareStudy.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { LogOptions } from '../../logs/index.ts'

/** What a specimen's samples are made of: its recordings in order, those set aside left out, and their rig. */
export interface SpecimenSource {
  readonly recordingIds: readonly string[]
  readonly rig: { readonly name: string; readonly document: unknown } | null
  /** Day of the first recording (ISO 8601), for the age of a calibration; `null` where unknown. */
  readonly day: string | null
  /** Key of the calibration of the rig that a person chose; `null`: that of the day. */
  readonly calibration: string | null
  /** What the operator said that the cell may read when they were recorded; `null`: nothing. */
  readonly capacityN: number | null
  /** They came from the pretend rig. */
  readonly isPractice: boolean
}

/** What is to be read, and how. */
export interface LookAt {
  readonly source: SpecimenSource
  readonly facts: NonNullable<Reading['specimen']>
  readonly adjustments: readonly Adjustment[]
}

/** A reading with what its screen draws. The curves are asked for by `look`. */
export interface Look {
  /** Names this look in later calls; a few are kept, and one that is gone is read anew. */
  readonly look: string
  readonly reading: Reading
  /** What it was read with, kept beside it. */
  readonly options: object
  readonly selvedge: readonly Stretch[]
  /** Where the zero is open: the stretches of which a person can say what they were. */
  readonly zeroChoices: readonly ZeroChoice[]
  readonly samples: number
  readonly segments: readonly Segment[]
  readonly channels: readonly Omit<Channel, 'values'>[]
  readonly notes: readonly Note[]
}

/** A joined curve but for its points: those are asked for in slices. */
export interface JoinedLook extends Pick<JoinedCurve, 'against' | 'unit'> {
  /** Its ends on its own axis. */
  readonly from: number
  readonly to: number
  /** Where on the axis a pull was joined to the one before. */
  readonly joins: readonly { readonly at: number; readonly pull: number }[]
  /** On its own axis, in `unit` and not always in seconds. */
  readonly selvedge: readonly Stretch[]
  /** Where each event of the reading lies on it, and the peak. */
  readonly eventsAt: readonly (number | null)[]
  readonly peakAt: number | null
  /** Where the part that was asked for lies on it; `null` where none was, or none of it is drawn. */
  readonly part: { readonly from: number; readonly to: number } | null
}

/** A stretch of a recording's time. */
export interface TimeSpan {
  readonly fromS: number
  readonly toS: number
}

/** `raw` and `corrected` lie over time; `joined` over extension, travel or loading time. */
export type CurveKind = 'raw' | 'corrected' | 'joined'

export interface Stretched {
  readonly from: number
  readonly to: number
  readonly pixels: number
}

/** Samples as they were received, for a ledger that goes down to them. */
export interface SampleRows {
  readonly firstSample: number
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly correctedN: Float64Array
}

/** What can be said of a log whether or not it could be understood. */
export interface LogLook {
  readonly sha256: string
  /** As text, decoded as the log is read. */
  readonly firstLines: readonly string[]
  /** Names of its columns, in order; `''` for one without a name. None where the log has no columns. */
  readonly columns: readonly string[]
  readonly read: Answer<LogRead>
  /** The tables of the file, where it holds several. */
  readonly parts: readonly PartLook[]
}

/** One of several tables in a file. */
export interface PartLook {
  /** The name that the file gives it, `null` where it gives none. */
  readonly title: string | null
  readonly firstLine: number
  readonly lastLine: number
  /** It stands beside the others, not below. */
  readonly isBeside: boolean
  /** `null` where it cannot be read. */
  readonly curve: Thinned | null
}

/** What was understood of a log. */
export interface LogRead {
  readonly understood: string
  /** When it began, where its stamps say; `null` where they carry no date. */
  readonly startedAt: string | null
  readonly samples: number
  readonly startS: number | null
  readonly endS: number | null
  readonly forceUnit: Recording['forceUnit']
  readonly timeFrom: Recording['timeFrom']
  readonly channels: readonly Omit<Channel, 'values'>[]
  readonly assumptions: readonly Assumption[]
  readonly notes: readonly Note[]
  readonly curve: Thinned
  readonly peak: string
}

/** Answers carry their problems: what crosses between threads is plain data. */
export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] }

/** One specimen's joined curve, thinned, and where it is put together with others. */
export interface OverlayCurve {
  readonly against: JoinedCurve['against']
  readonly along: Float64Array
  readonly forceN: Float64Array
  readonly origins: CurveOrigins
}

/** The engine, in a thread of its own so that the page never waits for it. */
export interface Engine {
  /** How a log would be understood and read; nothing is kept. Its problems are in the answer's `read`. */
  preview(log: Blob, name: string, options: LogOptions): Promise<Answer<LogLook>>
  /** A log as a recording, its hash set. The page that keeps logs itself asks for it. */
  parse(bytes: Uint8Array, name: string, options: LogOptions): Promise<Answer<Recording>>
  look(at: LookAt): Promise<Answer<Look>>
  /** The pulls as one curve; `null` where there is none to draw. Asked for by itself: a re-reading does not wait for it. */
  joined(at: LookAt, part: TimeSpan | null): Promise<Answer<JoinedLook | null>>
  /** A stretch of a curve thinned to pixels, no extreme lost. NaN breaks the line. */
  curve(at: LookAt, kind: CurveKind, stretch: Stretched): Promise<Answer<Thinned>>
  /** `count` samples, those around a time. */
  rows(at: LookAt, aroundS: number, count: number): Promise<Answer<SampleRows>>
  /** The joined curve of a reading that is there already; `againstTime` where not every curve has an extension. */
  overlay(
    source: SpecimenSource,
    reading: Reading,
    options: { readonly pixels: number; readonly againstTime: boolean },
  ): Promise<Answer<OverlayCurve>>
  compare(study: ComparedStudy, options: StudyComparison): Promise<Answer<Comparison>>
}
