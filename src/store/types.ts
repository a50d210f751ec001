import type { Reading } from '../core/reading/document.ts'
import type { Recording, RecordingInBlocks } from '../core/recording.ts'
import type { SpecimenFields } from '../core/study.ts'

/** What is kept, as plain data. Times are ISO 8601 in UTC; a figure that is not known is `null`. */

export type {
  Specimen,
  SpecimenFields,
  Study,
  StudyFields,
  Variant,
  VariantFields,
} from '../core/study.ts'

export type RecordingSource = 'log' | 'live'

/**
 * `recovered`: put together from a journal that a stopped program left; `given-up`: the operator broke it
 * off.
 */
export type RecordingState = 'complete' | 'recovered' | 'given-up'

/** A recording in a list: all but its samples. */
export interface RecordingEntry {
  readonly id: string
  readonly name: string
  /** Of the log's bytes as received. */
  readonly sha256: string
  readonly samples: number
  readonly logBytes: number
  readonly startedAt: string | null
  readonly addedAt: string
  readonly startS: number | null
  readonly endS: number | null
  /** `null`: the log does not tell it. */
  readonly forceUnit: string | null
  readonly timeFrom: string
  readonly source: RecordingSource
  /** What sent it, for people: `/dev/ttyUSB0 at 115200 baud`; empty for a file. */
  readonly device: string
  readonly state: RecordingState
  readonly rigId: string | null
  readonly calibrationId: string | null
  /**
   * Key of the calibration of its rig that a person chose (`calibrationKey`); `null`: the latest that is not
   * after its day.
   */
  readonly calibration: string | null
  /** What the operator said that the cell may read, where it is not just the rig's word. */
  readonly capacityN: number | null
  readonly study: { readonly id: string; readonly name: string } | null
  readonly specimen: { readonly id: string; readonly name: string } | null
  /** Order among the specimen's recordings. */
  readonly place: number
  readonly setAside: { readonly at: string; readonly why: string } | null
}

export interface NewRecording {
  readonly recording: Recording
  /**
   * The log's bytes as received, whole or in pieces. Their hash must be the recording's, unless that is `''`.
   */
  readonly log: Uint8Array | AsyncIterable<Uint8Array>
  readonly source: RecordingSource
  readonly state?: RecordingState
  readonly startedAt?: string | null
  readonly device?: string
  /**
   * An id of the caller's, for example the journal's: saving the same id again changes nothing and gives what
   * is there, so that a recovery that was itself cut off can simply be run again.
   */
  readonly id?: string
  readonly specimenId?: string | null
  readonly rigId?: string | null
  readonly calibrationId?: string | null
  /** Key of a calibration of the rig, where a person chose one. */
  readonly calibration?: string | null
  /** How the log was told to be read: `LogOptions`, kept so that it can be read again. */
  readonly logOptions?: object
}

/** A recording that is too long to be held in memory. */
export interface NewLongRecording extends Omit<NewRecording, 'recording' | 'log'> {
  readonly recording: RecordingInBlocks
  readonly log: AsyncIterable<Uint8Array>
  /** Folder with room for what is packed of it, for a while. */
  readonly scratchFolder: string
}

export interface RecordingFilter {
  readonly studyId?: string
  readonly specimenId?: string
  /** Only those of no specimen. */
  readonly loose?: boolean
  /** Words that must all stand in the name, specimen, study, device or hash. */
  readonly search?: string
  /** Those set aside are left out unless asked for. */
  readonly withSetAside?: boolean
  readonly limit?: number
  /** `next` of the page before. */
  readonly after?: string
}

export interface Page<T> {
  readonly items: readonly T[]
  /** To ask for the next page with; `null` on the last. */
  readonly next: string | null
}

/** A reading as kept: the document, and all that is needed to make it again. */
export interface StoredReading {
  readonly id: string
  readonly specimenId: string | null
  /** In the order that they were joined. */
  readonly recordingIds: readonly string[]
  readonly madeAt: string
  /** Version of the engine. */
  readonly engine: string
  readonly adjustments: readonly unknown[]
  /** Other options of the reading: elements, sensitivity. */
  readonly options: object
  readonly reading: Reading
}
export type NewReading = Omit<StoredReading, 'id' | 'madeAt'>

/** One change of a study's specimens. Many make one edit, which is taken back as one. */
export type SpecimenEdit =
  /**
   * `basedOn`: the `updatedAt` that the caller saw; another change since then is told, and nothing is
   * written.
   */
  | {
      readonly kind: 'change'
      readonly specimenId: string
      readonly fields: Partial<SpecimenFields>
      readonly basedOn?: string
    }
  /** By the variant's name; made where there is none. `null`: not assigned. */
  | { readonly kind: 'to-variant'; readonly specimenId: string; readonly variant: string | null }
  | {
      readonly kind: 'add'
      readonly name: string
      readonly variant: string | null
      readonly fields?: Partial<Omit<SpecimenFields, 'name' | 'variantId'>>
    }
  | { readonly kind: 'remove' | 'bring-back'; readonly specimenId: string }
  /** Some of its recordings become a specimen of their own. */
  | {
      readonly kind: 'split'
      readonly specimenId: string
      readonly recordingIds: readonly string[]
      readonly name: string
    }
  /** The recordings of the others go behind its own; the others are removed. */
  | { readonly kind: 'merge'; readonly specimenId: string; readonly others: readonly string[] }
  | { readonly kind: 'order-logs'; readonly specimenId: string; readonly recordingIds: readonly string[] }
  /**
   * `calibration`: key of one of the rig's; left out or `null`: of each recording the latest that is not
   * after its day.
   */
  | {
      readonly kind: 'rig'
      readonly recordingIds: readonly string[]
      readonly rigId: string | null
      readonly calibration?: string | null
    }
  /** `specimensTo`: the variant that its specimens go to, `null` for none. */
  | { readonly kind: 'remove-variant'; readonly variantId: string; readonly specimensTo: string | null }

/** An edit as it is listed. */
export interface Edit {
  readonly id: string
  readonly studyId: string
  readonly madeAt: string
  readonly who: string
  /** For people: `paste 3 to stitch`. */
  readonly what: string
  /** `null` while it holds. */
  readonly takenBackAt: string | null
}

/** Cell, converter, drive: a document of the rig's own shape. */
export interface Rig {
  readonly id: string
  readonly name: string
  readonly document: unknown
  readonly createdAt: string
  readonly updatedAt: string
}

export interface StoredCalibration {
  readonly id: string
  readonly rigId: string | null
  readonly madeAt: string
  /** The calibration document. */
  readonly document: unknown
}

/** A quick check with a known mass before the day's work. */
export interface DailyCheck {
  readonly id: string
  readonly rigId: string | null
  readonly calibrationId: string | null
  readonly madeAt: string
  readonly document: unknown
}

export type SubjectKind = 'study' | 'variant' | 'specimen' | 'recording' | 'rig'
export interface Subject {
  readonly kind: SubjectKind
  readonly id: string
}

export interface StoredNote {
  readonly id: string
  readonly subject: Subject
  readonly text: string
  readonly operator: string
  readonly madeAt: string
}

export interface Photo {
  readonly id: string
  readonly subject: Subject
  readonly name: string
  readonly caption: string
  readonly mime: 'image/jpeg' | 'image/png' | 'image/webp'
  /** Of the bytes as kept, without what the camera wrote beside the picture. */
  readonly sha256: string
  readonly bytes: number
  readonly addedAt: string
}
