/** A part of the doubt of one measured value, as a standard uncertainty in the value's own unit. */
export interface DoubtPart {
  readonly source: string
  readonly standard: number
  /** Which one shares it, where it is known: a calibration of a rig, a named mass; else it goes by its source. */
  readonly of?: string
  /** What it has in common with: shared parts do not shrink in a mean and cancel in a difference on one rig. */
  readonly shared: 'none' | 'recording' | 'day' | 'rig'
}

export type ValueStatus = 'measured' | 'at-least' | 'not-recorded' | 'not-reached'

/** One specimen as a comparison sees it: a value in one unit, its doubt, and what could explain it. */
export interface Specimen {
  readonly name: string
  readonly group: string
  readonly status: ValueStatus
  /** The measured value; of an `at-least` the bound that it reached; `null` where there is none. */
  readonly value: number | null
  /** Ends of the value's own 95 % interval. */
  readonly low: number | null
  readonly high: number | null
  readonly parts: readonly DoubtPart[]
  /** How it failed, from the study's own list. */
  readonly mode: string | null
  /** Day, batch or operator that it shares with others: a block of the two-way layout. */
  readonly block: string | null
  readonly day: string | null
  /** Place in the order in which the specimens were pulled. */
  readonly order: number | null
  /** What was measured on it beside the result, where that is to be taken out of the scatter. */
  readonly covariate?: number | null
  /** It failed in another way than the one that is compared, and so only held at least its value against that. */
  readonly failedOtherwise?: boolean
  /** Its numbers lie on another scale than those compared (raw counts beside newton): it waits for its rig. `dropped` says so, too. */
  readonly otherScale?: boolean
  /** Why it was taken out of the figures; `null` where it counts. */
  readonly dropped: string | null
}

/** A specimen with nothing known but its value: what a table by hand gives. */
export function plainSpecimen(name: string, group: string, value: number): Specimen {
  return {
    name,
    group,
    status: 'measured',
    value,
    low: null,
    high: null,
    parts: [],
    mode: null,
    block: null,
    day: null,
    order: null,
    dropped: null,
  }
}

/** The specimens that count in means: measured, and not dropped. */
export const measuredOf = <T extends Pick<Specimen, 'status' | 'value' | 'dropped'>>(
  specimens: readonly T[],
): readonly T[] => specimens.filter(s => s.status === 'measured' && s.value !== null && s.dropped === null)

/** Those that only reached a bound (the rig, the cell or the stroke gave out first), and not dropped. */
export const atLeastOf = (specimens: readonly Specimen[]): readonly Specimen[] =>
  specimens.filter(s => s.status === 'at-least' && s.value !== null && s.dropped === null)

export const valuesOf = (specimens: readonly Pick<Specimen, 'value'>[]): Float64Array =>
  Float64Array.from(specimens, s => s.value ?? Number.NaN)
