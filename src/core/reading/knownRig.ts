import { fitLine } from '../signal/line.ts'
import type { Analysis } from './analyse.ts'
import type { BudgetLine } from './document.ts'
import type { PullPeak } from './peak.ts'
import { type Epoch, restBeyond } from './zero/epoch.ts'

/** What a check of the rig found, as far as it bears on a peak. What is not known is `null`. */
export interface KnownRig {
  /** Where it comes from, for the budget: `check of 2031-05-04`. */
  readonly source: string
  /** Readings that a sudden change takes to arrive; 1 where it arrives at once. */
  readonly settlingReadings: number | null
  /** Swing of a hum to either side. */
  readonly humN: number | null
  readonly driftNPerMin: number | null
}

/** A converter that needs fewer readings than this settles at once. */
export const SETTLES_AT_ONCE = 1.6
/** How well what is cut off is known, as a share of it: the pace before a break is not even. */
const CUT_SHARE = 0.35
/** Readings before the peak from which the pace there is taken, at least. */
const PACE_READINGS = 6

/**
 * Parts of the peak's doubt that a check of the rig tells and this record does not show: a hum greater than the noise of
 * its rests, a drift over the time to its nearest rest where all rests lie on one side, and what an averaging that no
 * drop shows has cut off a sharp top, which is added. `beyondN`: the drift that the record's own rests allow for already.
 */
export function knownRigLines(
  { pace, series, loadN, pulls, span }: Analysis,
  peak: PullPeak,
  epoch: Epoch,
  { source, humN, driftNPerMin, settlingReadings }: KnownRig,
  beyondN: number,
): BudgetLine[] {
  const line = (what: string, standardN: number, correctionN = 0): BudgetLine[] =>
    standardN > 0
      ? [{ source: `${what}, by the ${source}`, standardN, correctionN, shared: 'recording' }]
      : []
  const cutN = cutOffN()
  return [
    ...line('hum', beyond((humN ?? 0) / Math.SQRT2, pace.noiseN)),
    ...line('drift', beyond(driftStandardN(epoch, peak.atS, driftNPerMin ?? 0), beyondN)),
    ...line('settling', CUT_SHARE * cutN, cutN),
  ]

  /** What an averaging cuts off a top that a sudden fall follows: half of what the force gains while it settles. */
  function cutOffN(): number {
    const unseen = (settlingReadings ?? 1) - Math.max(1, span)
    const pull = pulls.find(p => peak.sampleIndex >= p.from && peak.sampleIndex < p.to)
    const from = Math.max(
      pull?.from ?? 0,
      peak.sampleIndex + 1 - Math.max(PACE_READINGS, 2 * Math.ceil(span)),
    )
    if (unseen < SETTLES_AT_ONCE - 1 || peak.sampleIndex - from < 2) return 0
    // The pace just before the top: where that is round, nothing is cut off.
    const { slopeNPerS } = fitLine(series.timeS, loadN, from, peak.sampleIndex + 1)
    return Math.max(0, slopeNPerS) * (unseen / 2) * pace.periodS
  }
}

/** What a standard uncertainty adds to one that is counted already. */
const beyond = (standardN: number, countedN: number): number =>
  Math.sqrt(Math.max(0, standardN ** 2 - countedN ** 2))

/** By as much as the zero drifts from the nearest rest on, or by nothing, evenly. */
const driftStandardN = (epoch: Epoch, atS: number, driftNPerMin: number): number =>
  ((Math.abs(driftNPerMin) / 60) * (restBeyond(epoch, atS)?.awayS ?? 0)) / Math.sqrt(3)
