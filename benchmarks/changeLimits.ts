import { seededRandom } from '../src/core/statistics/random.ts'
import { greatestSplit } from '../src/core/statistics/timeLine/changePoint.ts'

/**
 * The limits of src/core/statistics/timeLine/changeLimits.ts by simulation: with every value of a healthy series, of those
 * not told of before, one in 400 passes. Run: `npm run bench changeLimits` (some minutes). With 200,000 series a tail of
 * one in 400 is known to ± 4.5 %, which moves a limit by about 0.01 of itself.
 */
const SERIES = 200_000
const LENGTH = 120
const ALARM = 1 / 400
const PRINTED = [5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 50, 70, 100, 120]

const r = seededRandom(21)
let alive = Array.from({ length: SERIES }, () => Float64Array.from({ length: LENGTH }, () => r.normal()))
for (let n = PRINTED[0]!; n <= LENGTH; n++) {
  const found = alive.map(values => greatestSplit(values.subarray(0, n)).t)
  const limit = found.toSorted((a, b) => a - b)[Math.floor((1 - ALARM) * found.length)]!
  alive = alive.filter((_, i) => found[i]! <= limit)
  if (PRINTED.includes(n)) console.log(`  [${n}, ${limit.toFixed(2)}],`)
}
