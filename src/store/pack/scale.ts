/**
 * A scale on which values are whole numbers: value = (n ÷ divisor) × factor + offset, in exactly these steps
 * of double arithmetic. This is how a log's decimals become a double (67.25 kg is 6725 ÷ 100 × 9.80665 N), so
 * the whole number gives back the very bits.
 */
export interface Scale {
  readonly divisor: number
  readonly factor: number
  readonly offset: number
}

/** Differences of differences of numbers up to this stay within 53 bits once their sign is folded in. */
const LARGEST = 2 ** 50

const DECIMALS = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9]

/** Values looked at to choose a scale. */
const TRIED = 96

export const onScale = (n: number, { divisor, factor, offset }: Scale): number =>
  (n / divisor) * factor + offset

/** The whole number that gives back `value` bit for bit, or `null`. */
export function wholeNumber(value: number, scale: Scale): number | null {
  const n = Math.round(((value - scale.offset) / scale.factor) * scale.divisor)
  // Object.is tells −0 from 0, so that it goes another way; NaN and infinities fail the first comparison.
  return Math.abs(n) <= LARGEST && Object.is(onScale(n, scale), value) ? n : null
}

/**
 * The coarsest scale on which nearly all values are whole numbers, or `null` where there is none.
 * @param factors newton in one of the log's unit and the like, tried in order
 */
export function findScale(values: Float64Array, factors: readonly number[]): Scale | null {
  if (values.length === 0) return null
  const tried = spreadOver(values)
  const offsets = [0, values[0]!].filter(Number.isFinite)
  const divisors = [...DECIMALS, ...stepDivisors(tried, values)]
  for (const offset of offsets)
    for (const divisor of divisors)
      for (const factor of factors) {
        const scale = { divisor, factor, offset }
        let misses = 0
        for (const value of tried) if (wholeNumber(value, scale) === null) misses++
        if (misses * 16 <= tried.length) return scale
      }
  return null
}

function spreadOver(values: Float64Array): number[] {
  const step = Math.max(1, values.length / TRIED)
  const tried: number[] = []
  for (let at = 0; at < values.length; at += step) tried.push(values[Math.floor(at)]!)
  return tried
}

/** A log that gives no times has them at k ÷ rate: the rate divides them exactly where no decimal does. */
function stepDivisors(tried: readonly number[], values: Float64Array): number[] {
  const step = (values.at(-1)! - tried[0]!) / (values.length - 1)
  const rate = 1 / step
  if (!Number.isFinite(rate) || rate <= 0) return []
  return [Math.round(rate), Math.round(rate * 10) / 10, Math.round(rate * 1000) / 1000].filter(r => r > 0)
}
