import { fitLine } from '../signal/line.ts'
import { breakPoint } from './breakPoint.ts'
import { baseLine, lineAfter, paceBefore } from './measureDrop.ts'

/** The greatest force at a top that no drop follows at once. */
export interface TopPoint {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
  readonly atS: number
  /** No parabola fits. */
  readonly sharp: boolean
}

export interface TopOptions {
  /** Samples that may be used: one past the last is `to`. */
  readonly from: number
  readonly to: number
  /** Averaging of the converter, in periods. */
  readonly span: number
  readonly periodS: number
  readonly jitterS: number
  readonly noiseN: number
}

/**
 * A round top has the height of the parabola through the samples around it. Where no parabola fits, it is a corner:
 * the force ran along one line and then, at an instant between the samples, along another, which is sought as the
 * instant of a drop is.
 */
export function topPoint(
  timeS: Float64Array,
  loadN: Float64Array,
  top: number,
  options: TopOptions,
): TopPoint {
  const { from, to, span, periodS, jitterS, noiseN } = options
  const away = Math.max(1, Math.ceil(span))
  const pace = paceBefore(timeS, loadN, from, top, periodS)
  // What is averaged makes a round top of a sharp one, too.
  const cascade = fallsAtOnce(loadN, top, top + away + 2, pace.paceNPerS * periodS, noiseN)
  const round = parabola(timeS, loadN, top, options)
  if (round?.fits && !cascade) return round
  const plain = round?.fits ? round : sampleAlone(timeS, loadN, top, noiseN)
  if (top < from + 2 || top > to - 2) return plain
  const cut = top + away > to - 2
  if (cut && !cascade && !endsBelow(loadN, top, to, pace.paceNPerS * periodS, noiseN)) {
    return plain
  }
  const { line: base, to: baseTo } = baseLine(
    timeS,
    loadN,
    { first: from, from: cascade || cut ? top : top - 1, span: away, most: LINE_SAMPLES },
    noiseN,
  )
  const last = cascade || cut ? top + 1 : top + away
  const point = breakPoint({
    timeS,
    loadN,
    base,
    baseTo,
    after: lineAfter(timeS, loadN, cut ? to - 2 : last, to - 1, noiseN, LINE_SAMPLES),
    from: top,
    to: last,
    span,
    periodS,
    jitterS,
    noiseN,
    ...pace,
    chain: 0,
    cascade: cascade || cut,
    corner: !(cascade || cut),
  })
  return { valueN: point.beforeN, lowN: point.lowN, highN: point.highN, atS: point.atS, sharp: true }
}

/** Falls faster than this many times the usual loading: parts give way, and no hand turns back. */
const FASTER = 1.5

/** Whether soon after the top, by sample `last`, the force falls faster than a hand that stops or turns back lets it. */
function fallsAtOnce(
  loadN: Float64Array,
  top: number,
  last: number,
  growthN: number,
  noiseN: number,
): boolean {
  for (let i = top + 1; i <= last && i < loadN.length; i++) {
    if (loadN[i - 1]! - loadN[i]! > FASTER * growthN + 4 * noiseN) return true
  }
  return false
}

/** Whether the few samples after the top, before the reading ends, lie below where loading would have led. */
function endsBelow(loadN: Float64Array, top: number, to: number, growthN: number, noiseN: number): boolean {
  for (let i = top + 1; i < to; i++) if (loadN[top]! + growthN - loadN[i]! > 4 * noiseN) return true
  return false
}

const LINE_SAMPLES = 8

const sampleAlone = (timeS: Float64Array, loadN: Float64Array, top: number, noiseN: number): TopPoint => ({
  valueN: loadN[top]!,
  lowN: loadN[top]! - 2 * noiseN,
  highN: loadN[top]! + 2 * noiseN,
  atS: timeS[top]!,
  sharp: false,
})

const LEAST_HALF = 3
const MOST_HALF = 12
/** The longest parabola that still fits is off by as much as the noise just hides, beside the noise itself. */
const LONGEST = 1.5

/** The parabola through as many samples about the top as it fits within their noise; `null` where there are too few. */
function parabola(
  timeS: Float64Array,
  loadN: Float64Array,
  top: number,
  { from, to, noiseN }: TopOptions,
): (TopPoint & { fits: boolean }) | null {
  const most = Math.min(MOST_HALF, top - from, to - 1 - top)
  let best: (TopPoint & { fits: boolean }) | null = null
  for (let half = LEAST_HALF; half <= most; half++) {
    const one = parabolaOver(timeS, loadN, top, half, noiseN)
    if (!one.fits) return best ?? one
    best = one
  }
  return best
}

/** Least squares in constant, slope and bend over the `half` samples on either side. */
function parabolaOver(
  timeS: Float64Array,
  loadN: Float64Array,
  top: number,
  half: number,
  noiseN: number,
): TopPoint & { fits: boolean } {
  const line = fitLine(timeS, loadN, top - half, top + half + 1)
  const middle = line.spreadS2 / line.n
  // The square of the time, made independent of constant and slope (the samples lie nearly evenly).
  let xy = 0
  let xx = 0
  for (let i = top - half; i <= top + half; i++) {
    const x = (timeS[i]! - line.atS) ** 2 - middle
    xy += x * loadN[i]!
    xx += x * x
  }
  const bend = xx > 0 ? xy / xx : 0
  const reach = timeS[top + half]! - timeS[top]!
  const shift = bend < 0 ? Math.min(reach, Math.max(-reach, -line.slopeNPerS / (2 * bend))) : 0
  const valueN = line.levelN + line.slopeNPerS * shift + bend * (shift * shift - middle)
  const left = Math.max(0, line.residualN2 - bend * xy)
  const freedom = line.n - 3
  const standardN =
    LONGEST * Math.max(noiseN, Math.sqrt(left / freedom)) * Math.sqrt(1 / line.n + middle ** 2 / xx)
  return {
    valueN,
    lowN: valueN - 2 * standardN,
    highN: valueN + 2 * standardN,
    atS: line.atS + shift,
    sharp: false,
    // Five in a hundred noisy parabolas lie above this, by the normal limit of chi-square.
    fits: left < noiseN * noiseN * (freedom + 2.3 * Math.sqrt(freedom)),
  }
}
