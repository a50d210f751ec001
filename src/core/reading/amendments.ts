/**
 * What the operator's adjustments come to, in the shape that the stages take: made from the list of adjustments,
 * never stored. Times are those of the recording's time axis.
 */
export interface Amendments {
  /** Equal elements that the specimen had; `undefined` where no adjustment says. */
  readonly elements: number | null | undefined
  /** 1 = normal; `undefined` where no adjustment says. */
  readonly sensitivity: number | undefined
  /** Stretches in which the specimen carried nothing. */
  readonly zeros: readonly { readonly fromS: number; readonly toS: number }[]
  /** Stretches in which it carried a load, however still it was. */
  readonly holds: readonly { readonly fromS: number; readonly toS: number }[]
  /** The pull that contains the time, or lies nearest to it, is no pull. */
  readonly droppedPulls: readonly { readonly atS: number }[]
  /** What the drop nearest to the time is; `none` takes it out. */
  readonly labels: readonly { readonly atS: number; readonly kind: DropLabel }[]
  /** Samples in these spans are ignored. */
  readonly cuts: readonly { readonly fromS: number; readonly toS: number }[]
  /** For the joined curve only: the reading does not look at them. */
  readonly shifts: readonly {
    readonly fromS: number
    readonly toS: number
    readonly byS: number | null
    readonly byMm: number | null
  }[]
}

/** Whether somebody said that a load was held during a stretch, or a part of it. */
export const isHeld = (
  { holds }: Pick<Amendments, 'holds'>,
  { fromS, toS }: { readonly fromS: number; readonly toS: number },
): boolean => holds.some(hold => hold.toS > fromS && hold.fromS < toS)

export type DropLabel = 'partial-break' | 'break' | 'slip' | 'none'

export const NO_AMENDMENTS: Amendments = {
  elements: undefined,
  sensitivity: undefined,
  zeros: [],
  holds: [],
  droppedPulls: [],
  labels: [],
  cuts: [],
  shifts: [],
}
