import type { WildPattern } from '../health/glitches.ts'
import { settlingOfRests } from '../health/restsSettling.ts'
import { fitLine } from '../signal/line.ts'
import type { Analysis } from './analyse.ts'
import type { BudgetLine } from './document.ts'
import type { PullPeak } from './peak.ts'
import { pullFrom } from './pulls.ts'
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
  /** A zero that moves at first and then stands: change a minute at the start. */
  readonly warmUpNPerMin: number | null
  /** What its wild readings read; none where it has none that follow a pattern. */
  readonly wild: readonly WildPattern[]
}

/** A converter that needs fewer readings than this settles at once. */
export const SETTLES_AT_ONCE = 1.6
/**
 * How well what is cut off is known: as a share of it, and of what the fastest pace nearby would make more. Over seeds
 * 101–106 of ten kinds behind means of 3 to 8 readings, 0.2 and 0.2 cover 95 % of the true peaks.
 */
const CUT_SHARE = 0.2
const FASTER_SHARE = 0.2
/** Readings before the peak from which the pace there is taken, at least, and among which the fastest is sought. */
const PACE_READINGS = 6
const FASTEST_OVER = 12

/**
 * Parts of the peak's doubt that its own readings do not show: what an averaging cuts off a sharp top, which is added
 * where a check of the rig tells of it; by a check alone a hum greater than the noise of the rests, and a drift or a
 * warm-up over the time to the nearest rest where all rests lie on one side. `beyondN`: the drift that the record's own
 * rests allow for already.
 */
export function knownRigLines(
  analysis: Analysis,
  peak: PullPeak,
  epoch: Epoch,
  known: KnownRig | null,
  beyondN: number,
): BudgetLine[] {
  const { pace, series, loadN, pulls } = analysis
  const line = (what: string, standardN: number, correctionN = 0): BudgetLine[] =>
    standardN > 0 ? [{ source: what, standardN, correctionN, shared: 'recording' }] : []
  const settling = settlingOf(analysis, known)
  const cut = settling === null ? { pacedN: 0, fastestN: 0 } : cutOffN(settling.readings)
  // What the course up to the break has added is counted. By the record alone nothing is added, since its falls may be
  // wide, and its rests moved, by themselves: the top may lie anywhere from what was read upwards.
  const addedN = Math.max(0, cut.pacedN - Math.max(0, peak.valueN - peak.sampleN))
  const isAdded = settling?.isChecked === true
  const shownN = isAdded ? CUT_SHARE * cut.pacedN : addedN / Math.sqrt(3)
  return [
    ...(known === null ? [] : byTheCheck(known)),
    ...line(
      `settling, by the ${settling?.source}`,
      Math.hypot(shownN, FASTER_SHARE * (cut.fastestN - cut.pacedN)),
      isAdded ? addedN : 0,
    ),
  ]

  function byTheCheck({ source, humN, driftNPerMin, warmUpNPerMin }: KnownRig): BudgetLine[] {
    const driftN = driftStandardN(epoch, peak.atS, driftNPerMin ?? 0)
    const warmUpN = warmUpStandardN(epoch, peak.atS, warmUpNPerMin ?? 0)
    return [
      ...line(`hum, by the ${source}`, beyond((humN ?? 0) / Math.SQRT2, pace.noiseN)),
      ...line(`drift, by the ${source}`, beyond(driftN, beyondN)),
      ...line(`warm-up, by the ${source}`, beyond(warmUpN, Math.hypot(driftN, beyondN))),
    ]
  }

  /**
   * What an averaging cuts off a top that a sudden fall follows: what the force gains while half of the readings that it
   * takes are made, and half of one more, in which the fall comes. At the pace before the top, and at the fastest nearby.
   */
  function cutOffN(readings: number): { pacedN: number; fastestN: number } {
    const at = peak.sampleIndex + 1
    const first = pullFrom(pulls, peak.sampleIndex)
    const over = Math.max(PACE_READINGS, 2 * Math.ceil(analysis.span))
    const hiddenS = ((readings + 1) / 2) * pace.periodS
    const pacedN = Math.max(0, paceOver(Math.max(first, at - over), at)) * hiddenS
    const window = Math.max(3, Math.ceil(readings))
    let fastest = 0
    for (let to = at; to - window >= Math.max(first, at - Math.max(FASTEST_OVER, window * 6)); to--)
      fastest = Math.max(fastest, paceOver(to - window, to))
    return { pacedN, fastestN: Math.max(pacedN, fastest * hiddenS) }
  }

  function paceOver(from: number, to: number): number {
    return to - from < 3 ? 0 : fitLine(series.timeS, loadN, from, to).slopeNPerS
  }
}

/** Over how many readings a sudden change arrives, and what tells it; `null` where nothing tells, or it arrives at once. */
function settlingOf(
  { zero, series, signal, span }: Analysis,
  known: KnownRig | null,
): { readonly readings: number; readonly source: string; readonly isChecked: boolean } | null {
  if (known?.settlingReadings != null)
    return known.settlingReadings < SETTLES_AT_ONCE
      ? null
      : { readings: known.settlingReadings / series.block, source: known.source, isChecked: true }
  const readings =
    series.block === 1
      ? settlingOfRests(
          signal.forceN,
          zero.epochs.flatMap(e => e.rests),
        )
      : null
  if (readings !== null && readings >= LEAST_OWN)
    return { readings, source: 'noise of the rests', isChecked: false }
  return span >= LEAST_OWN - 1 ? { readings: span, source: 'falls of the record', isChecked: false } : null
}

/** A mean of two readings is left to the drops: noise that is not white looks like one. */
const LEAST_OWN = 3

/** What a standard uncertainty adds to one that is counted already. */
const beyond = (standardN: number, countedN: number): number =>
  Math.sqrt(Math.max(0, standardN ** 2 - countedN ** 2))

/** By as much as the zero drifts from the nearest rest on, or by nothing, evenly. */
const driftStandardN = (epoch: Epoch, atS: number, driftNPerMin: number): number =>
  ((Math.abs(driftNPerMin) / 60) * (restBeyond(epoch, atS)?.awayS ?? 0)) / Math.sqrt(3)

/**
 * The same for a zero that moves only while things warm up: after a rest no faster than its own slope allows. When the rig
 * was switched on nobody knows, so without such a rest the pace at the start counts.
 */
function warmUpStandardN(epoch: Epoch, atS: number, warmUpNPerMin: number): number {
  const beyondRest = restBeyond(epoch, atS)
  if (beyondRest === null) return 0
  const { rest, awayS } = beyondRest
  const ownNPerS = Math.abs(rest.slopeNPerS) + 2 * rest.slopeStandardN
  const startNPerS = Math.abs(warmUpNPerMin) / 60
  const paceNPerS = rest.toS < atS ? Math.min(startNPerS, ownNPerS) : startNPerS
  return (paceNPerS * awayS) / Math.sqrt(3)
}
