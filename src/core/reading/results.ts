import { quantileSorted } from '../signal/order.ts'
import type { Analysis } from './analyse.ts'
import type { Results } from './document.ts'
import { mainPull, zeroStandardN } from './peakForce.ts'
import { epochAt } from './zero/epoch.ts'

/** Part of the way to the first drop or the peak over which stiffness and loading rate are taken. */
const STRAIGHT_FROM = 0.25
const STRAIGHT_TO = 0.75

/** What follows from the main pull beside its peak; each is `null` where it cannot be had. */
export function mainResults(
  analysis: Analysis,
): Pick<Results, 'timeToPeakS' | 'stiffness' | 'work' | 'loadingRate'> {
  const main = mainPull(analysis.peaks)
  if (main < 0) return { timeToPeakS: null, stiffness: null, work: null, loadingRate: null }
  const peak = analysis.peaks[main]!
  const pull = analysis.pulls[main]!
  const { timeS } = analysis.series
  const straight = straightPart(analysis, main)
  const mm = analysis.travelMm
  return {
    timeToPeakS: Math.max(0, peak.atS - timeS[pull.from]!),
    stiffness: stiffnessOf(analysis, straight, mm),
    work: mm ? workOf(analysis, main, mm) : null,
    loadingRate: loadingRate(analysis, straight),
  }
}

interface Part {
  readonly from: number
  readonly to: number
}

/** Samples between a quarter and three quarters of the way up to the first drop, or to the peak. */
function straightPart({ pulls, peaks, explained, loadN }: Analysis, main: number): Part | null {
  const pull = pulls[main]!
  const first = explained.find(e => e.drop.pull === main)?.drop
  const end = first ? first.from : peaks[main]!.sampleIndex
  const top = loadN[end]!
  let from = pull.from
  while (from < end && loadN[from]! < STRAIGHT_FROM * top) from++
  let to = from
  while (to < end && loadN[to]! < STRAIGHT_TO * top) to++
  return to - from >= 3 ? { from, to } : null
}

/** Slope of force over extension (N/mm) where it is logged, else over time (N/s), by least squares. */
function stiffnessOf(
  { series, loadN }: Analysis,
  part: Part | null,
  mm: Float64Array | null,
): Results['stiffness'] {
  if (!part) return null
  const along = mm ?? series.timeS
  const n = part.to - part.from
  let x = 0
  let y = 0
  for (let i = part.from; i < part.to; i++) {
    x += along[i]! / n
    y += loadN[i]! / n
  }
  let xx = 0
  let xy = 0
  for (let i = part.from; i < part.to; i++) {
    xx += (along[i]! - x) ** 2
    xy += (along[i]! - x) * (loadN[i]! - y)
  }
  const value = xy / xx
  return Number.isFinite(value) && xx > 0 ? { value, unit: mm ? 'N/mm' : 'N/s' } : null
}

/** Mean rate over the straight part, and its steadiness: interquartile range of the rate over its mean. */
function loadingRate({ series, loadN, pace }: Analysis, part: Part | null): Results['loadingRate'] {
  if (!part) return null
  const { timeS } = series
  const lastS = timeS[part.to - 1]! - timeS[part.from]!
  if (!(lastS > 0)) return null
  const meanNPerS = (loadN[part.to - 1]! - loadN[part.from]!) / lastS
  if (!(meanNPerS > 0)) return null
  const lag = Math.max(1, Math.round(0.25 / Math.max(pace.periodS, 1e-9)))
  const rates: number[] = []
  for (let i = part.from; i + lag < part.to; i += lag) {
    rates.push((loadN[i + lag]! - loadN[i]!) / (timeS[i + lag]! - timeS[i]!))
  }
  const sorted = Float64Array.from(rates).sort()
  const spread =
    rates.length >= 4 ? (quantileSorted(sorted, 0.75)! - quantileSorted(sorted, 0.25)!) / meanNPerS : null
  return { meanNPerS, unevenness: spread }
}

/** Force over extension up to the end of the pull, by trapezoids, in J; the doubt is the zero's over the way. */
function workOf({ pulls, peaks, loadN, zero }: Analysis, main: number, mm: Float64Array): Results['work'] {
  const pull = pulls[main]!
  let sum = 0
  for (let i = pull.from + 1; i < pull.to; i++)
    sum += ((loadN[i]! + loadN[i - 1]!) / 2) * (mm[i]! - mm[i - 1]!)
  const way = Math.abs(mm[pull.to - 1]! - mm[pull.from]!)
  const epoch = epochAt(zero.epochs, peaks[main]!.sampleIndex)
  const standardN = epoch ? zeroStandardN(epoch, peaks[main]!.atS) : 0
  return Number.isFinite(sum)
    ? { valueJ: sum / 1000, uncertaintyJ: epoch && !epoch.unseen ? (2 * standardN * way) / 1000 : null }
    : null
}
