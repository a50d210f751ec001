import { type Line, lineAt, lineStandardN } from '../signal/line.ts'
import { CourseSearch } from './courseSearch.ts'
import { coursePriors } from './priors.ts'
import { WeighedCourses } from './weighedCourses.ts'

/**
 * The force at the instant of a drop, from the samples around it.
 *
 * What a converter shows is the force averaged over `span` periods up to the stamp. Before the drop the force goes on
 * along the line through earlier samples, or leaves it at an unseen instant (the hand began, slowed or stopped) with
 * another slope; it then falls onto the line through the later samples, at once or in two parts. Each such course is
 * moved to the instant at which it gives the samples' sum, which holds for averaging of any shape, and is weighed by how well it gives the samples and by how likely it is beforehand; the weighted courses are the
 * posterior of the force at the drop. Where nothing in the samples tells courses apart, the interval stays wide.
 */
export interface BreakPoint {
  /** Posterior median of the force just before the (first) drop, with the 2.5 % and 97.5 % points. */
  readonly beforeN: number
  readonly lowN: number
  readonly highN: number
  /** Force just after, from the line after. */
  readonly afterN: number
  /** Posterior mean and standard deviation of the share of the force that was lost. */
  readonly share: number
  readonly shareStandard: number
  /** Posterior mean of the instant, on the true time axis of a converter without delay. */
  readonly atS: number
}

export interface BreakPointInput {
  readonly timeS: Float64Array
  readonly loadN: Float64Array
  /** Line through samples before those that the drop can have touched, and the last sample in it. */
  readonly base: Line
  readonly baseTo: number
  readonly after: Line
  /** Last sample before the force falls: whatever broke, broke before the next one. */
  readonly from: number
  /** First sample wholly after the drop. */
  readonly to: number
  /** Averaging of the converter, in periods; 0: none. */
  readonly span: number
  readonly periodS: number
  /** Spread of the stamps about an even pace. */
  readonly jitterS: number
  readonly noiseN: number
  /** A usual speed of loading near the drop, in N/s. */
  readonly paceNPerS: number
  /** Chance a second that the drive changes its pace. */
  readonly changesPerS: number
  /** No drop but a corner: the force runs on from the one line into the other. */
  readonly corner: boolean
  /** Chance that the fall is several breaks at different instants. */
  readonly chain: number
  /** So many breaks that only the first sample that falls says when they began. */
  readonly cascade: boolean
}

/** Slopes after a change of pace, over the usual pace; shares of a fall in the first of two breaks. */
const PACES = [0, 0.3, 0.6, 0.85, 1.1, 1.4, 1.8]
const CHAIN_SHARES = [0.15, 0.35, 0.6, 0.85]
/** Of a hand that set out unseen and broke several at once: since when, in periods, and how fast, in usual paces. */
const CHAIN_SINCE = [0.3, 0.7, 1.1, 1.5, 1.9]
const CHAIN_PACES = [0.4, 0.8, 1.2, 1.6]
/** Instants tried in a period, for the change of pace and between two breaks. */
const FINE = 5
/** However long the fall (a gap in the samples), no more instants of a change are tried. */
const MOST_CHANGES = 40
/**
 * Courses that together weigh less than this share of one that is found already are left out: they move no end of an
 * interval of 95 %.
 */
const TOO_RARE = 1e-3

/** Posterior of the force at a drop; see {@link BreakPoint}. `found` is filled anew: one serves many drops. */
export function breakPoint(input: BreakPointInput, found = new WeighedCourses()): BreakPoint {
  const { base, after, span, periodS, paceNPerS, changesPerS, chain, cascade } = input
  const widthS = span * periodS
  const stamps = evenStamps(input)
  const gridS = periodS / FINE
  found.clear()
  const search = new CourseSearch({ ...input, stamps, widthS, bendN: bendOf(input), gridS }, found)
  const { earliest, latest } = search

  const { changesMost, changesResting } = coursePriors
  const resting = Math.abs(base.slopeNPerS) < 0.15 * paceNPerS
  const goesOn = after.slopeNPerS > 0.2 * paceNPerS
  const reach = Math.max(2.5 * periodS, stamps.at(-1)! - stamps[0]! + (widthS - periodS) / 2)
  // What is still rarely breaks; where the drive moves after the drop, it most likely moved before it.
  const change = Math.min(
    changesMost,
    Math.max(resting ? (goesOn ? changesMost : changesResting) : 0, changesPerS * reach),
  )
  const slopes = PACES.map(share => share * paceNPerS)
  if (goesOn) slopes.push(after.slopeNPerS, 1.15 * after.slopeNPerS, 1.3 * after.slopeNPerS)
  const changes = Math.min(MOST_CHANGES, Math.max(1, Math.round(reach / gridS)))
  const single = cascade ? 1 : 1 - chain
  search.weigh((1 - change) * single, 0, base.slopeNPerS, 0, 1)
  // No course agrees better with the samples than wholly, so that all these together weigh no more than their chance.
  const isRare = !cascade && change * single < TOO_RARE * found.total
  for (let j = 0; j < changes && !isRare; j++) {
    const since = ((j + 0.5) * reach) / changes
    for (const slope of slopes)
      search.weigh((change * single) / (changes * slopes.length), since, slope, 0, 1)
  }
  const most = latest - earliest + periodS / 2
  for (let j = 0; j < FINE && chain > 0 && !cascade; j++) {
    const apart = ((j + 0.5) * most) / FINE
    for (const first of CHAIN_SHARES) {
      const prior = chain / (FINE * CHAIN_SHARES.length)
      search.weigh(prior * (1 - change), 0, base.slopeNPerS, apart, first)
      if (!resting) continue
      for (const since of CHAIN_SINCE) {
        for (const pace of CHAIN_PACES) {
          const share = (prior * change) / (CHAIN_SINCE.length * CHAIN_PACES.length)
          search.weigh(share, since * periodS, pace * paceNPerS, apart, first)
        }
      }
    }
  }
  return posterior(found, input, widthS / 2)
}

/** Stamps of samples `baseTo` to `to`, evened out over the neighbours: a host stamps late by a little, each time another. */
function evenStamps({ timeS, baseTo, to, periodS, jitterS }: BreakPointInput): number[] {
  const out: number[] = []
  for (let i = baseTo; i <= to; i++) {
    let sum = 0
    let n = 0
    for (let j = Math.max(0, i - 6); j <= Math.min(timeS.length - 1, i + 6); j++) {
      const off = timeS[j]! - timeS[i]! - (j - i) * periodS
      if (Math.abs(off) > 6 * jitterS + 0.1 * periodS) continue
      sum += off
      n++
    }
    out.push(timeS[i]! + sum / n)
  }
  return out
}

/**
 * How far a ramp of uneven pace may have left its line at a time, as a standard deviation: for a change of slope of
 * `changesPerS` times the pace in a second, a line over h seconds is off by half of that times (h²/6 + h·d + d²) at
 * d seconds past its end.
 */
function bendOf({ base, changesPerS, paceNPerS }: BreakPointInput): (tS: number) => number {
  const h = Math.sqrt((12 * base.spreadS2) / base.n)
  const slope = Math.min(Math.max(Math.abs(base.slopeNPerS), 0), 2 * paceNPerS)
  return tS => {
    const d = Math.max(0, tS - base.atS - h / 2)
    return coursePriors.bend * changesPerS * slope * ((h * h) / 6 + h * d + d * d)
  }
}

function posterior(courses: WeighedCourses, input: BreakPointInput, lag: number): BreakPoint {
  const { base, after, baseTo, timeS, to, noiseN, periodS, jitterS } = input
  if (!(courses.total > 0)) {
    // No course gives these samples: the line before, as far as the middle of the fall, and a wide doubt.
    const atS = (timeS[baseTo]! + timeS[to]!) / 2
    const beforeN = lineAt(base, atS)
    const afterN = lineAt(after, atS)
    const doubt = Math.abs(base.slopeNPerS) * (timeS[to]! - timeS[baseTo]!) + 2 * noiseN
    const share = beforeN > 0 ? Math.min(1, Math.max(0, (beforeN - Math.max(0, afterN)) / beforeN)) : 0
    return {
      beforeN,
      lowN: beforeN - doubt,
      highN: beforeN + doubt,
      afterN,
      share,
      shareStandard: doubt / Math.max(beforeN, 1e-12),
      atS: atS - lag,
    }
  }
  const atS = courses.meanAtS()
  const share = courses.meanShare()
  const [lowN, beforeN, highN] = courses.quantilesN([0.025, 0.5, 0.975]) as [number, number, number]
  const reachS = Math.min(atS + lag, timeS[baseTo]! + periodS)
  const lineN = Math.hypot(
    lineStandardN(base, reachS, noiseN),
    Math.abs(base.slopeNPerS) * jitterS,
    bendOf(input)(reachS),
    coursePriors.unseenPace * input.changesPerS * input.paceNPerS * periodS,
    input.span > 1 ? (coursePriors.spanLag / Math.sqrt(3)) * base.slopeNPerS * periodS : 0,
  )
  const afterStandardN = lineStandardN(after, atS + lag, noiseN)
  return {
    beforeN,
    lowN: beforeN - Math.hypot(beforeN - lowN, 2 * lineN),
    highN: beforeN + Math.hypot(highN - beforeN, 2 * lineN),
    afterN: lineAt(after, atS + lag),
    share,
    shareStandard: Math.hypot(
      courses.shareSpread(),
      Math.hypot(lineN * (1 - share), afterStandardN) / Math.max(beforeN, 1e-12),
    ),
    atS,
  }
}
