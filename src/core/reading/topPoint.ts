import { fitLine, type Line, lineAt, lineStandardN } from '../signal/line.ts'
import { lineAfter, lineBefore } from './measureDrop.ts'

/** The greatest force at a top that no drop follows at once. */
export interface TopPoint {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
  readonly atS: number
}

export interface TopOptions {
  /** Samples that may be used: one past the last is `to`. */
  readonly from: number
  readonly to: number
  /** Averaging of the converter, in periods. */
  readonly span: number
  readonly periodS: number
  readonly noiseN: number
}

/**
 * A top is a corner, where the lines before and after meet (both lag alike behind the force, so the height of their
 * meeting point is true however the converter averages), or it is round, and then a parabola through the samples
 * around it gives the height. Which of the two it is, the samples between say.
 */
export function topPoint(
  timeS: Float64Array,
  loadN: Float64Array,
  top: number,
  options: TopOptions,
): TopPoint {
  const { from, to, span, noiseN } = options
  const away = Math.max(1, Math.ceil(span))
  const round = parabola(timeS, loadN, top, options)
  if (top - away < from + 1 || top + away > to - 2) return round
  const before = lineBefore(timeS, loadN, from, top - away, noiseN)
  const after = lineAfter(timeS, loadN, top + away, to - 1, noiseN)
  const corner = meeting(before, after, noiseN)
  if (!corner || corner.atS < timeS[top - away]! || corner.atS > timeS[top + away]!) return round
  // Averaging only cuts a corner: the samples near it must not lie much below the blunted corner, nor above it.
  let off = 0
  for (let i = top - away + 1; i < top + away; i++) {
    const t = timeS[i]!
    off +=
      loadN[i]! - Math.min(lineAt(before, t), lineAt(after, t), bluntedAt(corner, before, after, t, options))
  }
  const within = 2 * away - 1
  if (Math.abs(off / within) > (2.5 * noiseN) / Math.sqrt(within) + 0.5 * corner.standardN) return round
  const half = 2 * corner.standardN
  return { valueN: corner.valueN, lowN: corner.valueN - half, highN: corner.valueN + half, atS: corner.atS }
}

function meeting(
  before: Line,
  after: Line,
  noiseN: number,
): { valueN: number; standardN: number; atS: number } | null {
  if (before.n < 3 || after.n < 3) return null
  const bend = before.slopeNPerS - after.slopeNPerS
  const slopeStandard = noiseN * Math.sqrt(1 / before.spreadS2 + 1 / after.spreadS2)
  if (!(before.slopeNPerS > 0) || !(bend > 5 * slopeStandard)) return null
  const atS = before.atS + (lineAt(after, before.atS) - before.levelN) / bend
  const weightAfter = before.slopeNPerS / bend
  const standardN = Math.hypot(
    (1 - weightAfter) * lineStandardN(before, atS, noiseN),
    weightAfter * lineStandardN(after, atS, noiseN),
  )
  return { valueN: lineAt(after, atS), standardN, atS }
}

/** Reading of a corner by a converter that averages over `span` periods, at a stamp. */
function bluntedAt(
  corner: { valueN: number; atS: number },
  before: Line,
  after: Line,
  t: number,
  { span, periodS }: TopOptions,
): number {
  const half = (Math.max(span, 0.01) * periodS) / 2
  const past = Math.min(half, Math.max(-half, t - corner.atS))
  const share = (half + past) / (2 * half)
  const meanBefore = corner.valueN - (before.slopeNPerS * (half - past)) / 2
  const meanAfter = corner.valueN + (after.slopeNPerS * (half + past)) / 2
  if (Math.abs(t - corner.atS) >= half) return t < corner.atS ? lineAt(before, t) : lineAt(after, t)
  return (1 - share) * meanBefore + share * meanAfter
}

const PARABOLA_SAMPLES = 7

/** Height of the parabola through the seven samples about the top; the top sample where there are too few. */
function parabola(
  timeS: Float64Array,
  loadN: Float64Array,
  top: number,
  { from, to, noiseN }: TopOptions,
): TopPoint {
  const half = Math.min(PARABOLA_SAMPLES >> 1, top - from, to - 1 - top)
  const atS = timeS[top]!
  const sampleN = loadN[top]!
  if (half < 2) return { valueN: sampleN, lowN: sampleN - 2 * noiseN, highN: sampleN + 2 * noiseN, atS }
  const line = fitLine(timeS, loadN, top - half, top + half + 1)
  // Least squares with the square of the time, made independent of constant and slope (even spacing).
  let squares = 0
  for (let i = top - half; i <= top + half; i++) squares += (timeS[i]! - line.atS) ** 2
  const middle = squares / line.n
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
  // A sharper top than the parabola is only bounded by the sample above it.
  const above = Math.max(0, sampleN - valueN - 2 * noiseN)
  const standardN = noiseN * Math.sqrt(1 / line.n + (middle * middle) / xx)
  return {
    valueN: valueN + above / 2,
    lowN: valueN - 2 * standardN,
    highN: valueN + above + 2 * standardN,
    atS,
  }
}
