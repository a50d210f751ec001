import type { Check } from '../../core/calibration/checkDocument.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import type { Problem } from '../../core/problem.ts'
import type { NamedParts } from '../../core/statistics/compare/namePattern.ts'
import type { LogOptions, SpecimenRow } from '../../logs/index.ts'
import type { Adjustment, NewSpecimen, NewStudy, RecordingEntry, Specimen } from '../../server/apiTypes.ts'
import type { LogLook } from '../engine/types.ts'

/** A dropped log, with what is known of it so far. */
export interface LogItem {
  readonly id: number
  readonly file: File
  readonly options: LogOptions
  /** How the log is understood; with `stale` true, with options that have changed since. */
  readonly look: LogLook | null
  readonly stale: boolean
  /** What stood in the way of looking at it or keeping it. */
  readonly problems: readonly Problem[]
  /** The recording that this log already is. */
  readonly known: RecordingEntry | null
  /** What the person said by hand; the rest comes from the table, the pattern or the name. */
  readonly byHand: { readonly specimen?: string; readonly variant?: string }
  /** Of the reading that a package brought along; replayed where its specimen has none yet. */
  readonly adjustments: readonly Adjustment[]
  /** That a package says it was read with; the log is kept with it unless another is chosen. */
  readonly rig: Rig | null
  /** Key of the calibration of that rig which the package says was chosen. */
  readonly calibration: string | null
  readonly leftOut: boolean
  /** The person said that it ended when its file was last written. */
  readonly byFileTime: boolean
  /** The file of several tables that it was taken from; it can be put back while the page stays. */
  readonly cutFrom?: File
  readonly kept: 'no' | 'now' | 'yes'
}

/** A specimens table that was dropped beside the logs. */
export interface TableItem {
  readonly name: string
  readonly rows: readonly SpecimenRow[]
  readonly problems: readonly Problem[]
  /** What is odd about it but does no harm. */
  readonly remarks: readonly string[]
  /** Of a package: what its rig was checked with. */
  readonly checked?: CheckedRig
  /** Of a package: what it tells of its specimens. */
  readonly told?: readonly ToldSpecimen[]
}

/** A specimen of a package. One without logs is of a peak that was typed. */
export interface ToldSpecimen {
  readonly variant: string | null
  readonly hasLogs: boolean
  readonly fields: Omit<NewSpecimen, 'variantId'> & Pick<Specimen, 'failureMode'>
}

/** A rig that a package brought along, with its daily checks. */
export interface CheckedRig {
  readonly rig: Rig
  readonly checks: readonly Check[]
}

/** A dropped file that is neither a log nor a table: what it is, and what to do with it. */
export interface StrangeItem {
  readonly name: string
  readonly problem: Problem
}

/** The study that the logs go to; `null` is one that is made on the way. */
export interface StudyChoice {
  readonly id: string | null
  readonly name: string
  readonly question: string
  /** What a package tells besides, for a new study. */
  readonly told?: Pick<NewStudy, 'method' | 'tell' | 'equivalents'>
}

/** Of which variant and specimen a log is, and what says so. */
export interface Assignment {
  readonly specimen: string
  readonly variant: string
  readonly from: 'hand' | 'table' | 'pattern' | 'name'
  readonly row: SpecimenRow | null
  /** What its name says by the pattern. */
  readonly parts: NamedParts | null
}
