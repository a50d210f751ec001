import type { Check } from '../../core/calibration/checkDocument.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import type { Per } from '../../core/statistics/compare/perDimension.ts'
import type { Quantity } from '../../core/statistics/compare/quantity.ts'
import type { Comparison, ComparisonWarning } from '../../core/statistics/document.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import type { SpecimenFields } from '../../core/study.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import type { KeptFilm } from './films.ts'
import type { ToldPage } from './page.ts'

/**
 * A study as it is told to others: everything that a report, a data package or a clip needs, as plain data, wherever it
 * came from (the store, files, the page's own storage). Times are ISO 8601; what is not known is `null`.
 */
export interface PublishedStudy {
  readonly name: string
  readonly question: string
  /** How the specimens were made and pulled, in the words of the maker; may be empty. */
  readonly method: string
  readonly quantity: Quantity
  /** Unit in which its forces are told; newton stands beside where it is another. */
  readonly forceUnit: ForceUnit
  readonly variants: readonly PublishedVariant[]
  /** In the order in which they were pulled, where it is known, else that of the variants. */
  readonly specimens: readonly PublishedSpecimen[]
  /** The rig of most of the recordings, its calibration inside; `null` where none was told. */
  readonly rig: Rig | null
  readonly checks: readonly Check[]
  readonly plan: Plan | null
  readonly comparison: Comparison | null
  /** What the comparison was made with, so that it can be made again; `null` where there is none. */
  readonly comparedWith: ComparedWith | null
  /** Why there is no comparison; `null` where there is one. */
  readonly notCompared: string | null
  readonly remarks: readonly Remark[]
  readonly photos: readonly PublishedPhoto[]
  readonly equivalents: readonly Equivalent[]
  /** How its report is put together. */
  readonly page: ToldPage
  /** Films that its recordings lie in: where, not the films themselves. */
  readonly films: readonly KeptFilm[]
  /** When what is told was put together. */
  readonly madeAt: string
}

/** What a comparison takes besides the readings; the rest (unit, blocks, control) stands in the comparison itself. */
export interface ComparedWith {
  readonly per: Per | null
  /** Half-width of a 95 % interval of each dimension. */
  readonly dimensionDoubtMm: number | null
  /** Unit in which its sentences tell forces, newton beside it; `null` for newton alone. */
  readonly shown: { readonly unit: string; readonly per: number } | null
  readonly worthShare: number | null
  readonly seed: number
  /** What the readings already warned of. */
  readonly warnings: readonly ComparisonWarning[]
}

export interface PublishedVariant {
  readonly name: string
  readonly control: boolean
  readonly note: string
}

export interface PublishedSpecimen extends Omit<SpecimenFields, 'variantId' | 'pulledOn' | 'typedPeak'> {
  readonly variant: string | null
  readonly remarks: readonly Remark[]
  /** Date or moment, as far as it is known. */
  readonly pulledAt: string | null
  readonly photos: readonly PublishedPhoto[]
  /** The logs as received, in the order in which they were joined. */
  readonly logs: readonly PublishedLog[]
  /** The logs as one recording, forces in newton by the calibration; `null` where nothing was recorded. */
  readonly recording: Recording | null
  readonly reading: Reading | null
  /** What the reading was made with, so that it can be made again: the rig, the day whose calibration counts, and the key of the calibration that counts instead. */
  readonly readWith: {
    readonly rig: Rig | null
    readonly day: string | null
    readonly calibration: string | null
  }
  /** Logs that do not count, with the reason. */
  readonly setAside: readonly { readonly name: string; readonly why: string }[]
}

/** A note that somebody made. */
export interface Remark {
  readonly text: string
  readonly operator: string
  readonly at: string | null
}

export interface PublishedLog {
  readonly name: string
  readonly sha256: string
  readonly byteLength: number
  /** A file that was given, or the journal of a capture. */
  readonly source: 'log' | 'live'
  /** Date or moment at which it begins, as far as it is known. */
  readonly startedAt: string | null
  /** How the log was told to be read (`LogOptions`), the sign of tension by its rig included, so that it can be read again. */
  readonly options: object
  readonly bytes: () => Promise<Uint8Array>
}

export interface PublishedPhoto {
  readonly name: string
  readonly caption: string
  readonly mime: 'image/jpeg' | 'image/png' | 'image/webp'
  readonly bytes: () => Promise<Uint8Array>
}

/** A familiar thing to say a force in: its weight is that of `massKg`. */
export interface Equivalent {
  readonly name: string
  readonly plural: string
  readonly massKg: number
}
