import { describe, expect, test } from 'vitest'
import { calibrate } from '../../../src/core/calibration/calibrate.ts'
import type { AppliedDoubt, Point } from '../../../src/core/calibration/points.ts'
import { polynomialAt } from '../../../src/core/calibration/polynomial.ts'
import { type Random, seededRandom } from '../../../src/core/statistics/random.ts'
import { typedGravity } from '../../../src/core/units/gravity.ts'

/** Made-up calibrations of made-up rigs, whose truth is known. */
const CALIBRATIONS = 2000

interface Rig {
  readonly name: string
  /** Cycles of the loads, the empty hook among them. */
  readonly cycles: number
  readonly loadsN: readonly number[]
  /** Readings scatter by this, in newton. */
  readonly noiseN: number
  /** Limits ± by which all masses are off together, as a share. */
  readonly massShare: number
  /** Limits ± of gravity, as a share. */
  readonly gravityShare: number
  /** Bend at the top, as a share of the top; the fit is told the degree. */
  readonly bendShare: number
}

const rigs: readonly Rig[] = [
  {
    name: 'noise only',
    cycles: 3,
    loadsN: [0, 20, 40, 60, 80, 100],
    noiseN: 0.1,
    massShare: 0,
    gravityShare: 0,
    bendShare: 0,
  },
  {
    name: 'few points, so few degrees of freedom',
    cycles: 1,
    loadsN: [0, 30, 60, 100],
    noiseN: 0.1,
    massShare: 0,
    gravityShare: 0,
    bendShare: 0,
  },
  {
    name: 'noise and masses alike',
    cycles: 3,
    loadsN: [0, 20, 40, 60, 80, 100],
    noiseN: 0.15,
    massShare: 0.003,
    gravityShare: 0,
    bendShare: 0,
  },
  {
    name: 'noise, masses and gravity',
    cycles: 2,
    loadsN: [0, 10, 25, 50, 75, 100],
    noiseN: 0.2,
    massShare: 0.003,
    gravityShare: 0.0027,
    bendShare: 0,
  },
  {
    name: 'a bent cell',
    cycles: 3,
    loadsN: [0, 20, 40, 60, 80, 100],
    noiseN: 0.1,
    massShare: 0.002,
    gravityShare: 0,
    bendShare: 0.02,
  },
]

const flat = (random: Random, limit: number) => limit * (2 * random.uniform() - 1)

/** Whether the interval for one new reading under a force of `atN` holds that force. */
function covered(rig: Rig, atN: number, seed: number): boolean {
  const random = seededRandom(seed)
  const massError = flat(random, rig.massShare)
  const gravityError = flat(random, rig.gravityShare)
  const topN = Math.max(...rig.loadsN)
  const countsOf = (forceN: number) =>
    50_000 + 2000 * (forceN + rig.bendShare * topN * (forceN / topN) ** 2 + rig.noiseN * random.normal())
  const points: Point[] = Array.from({ length: rig.cycles }, (_, c) =>
    rig.loadsN.map(appliedN => ({
      line: 0,
      appliedN,
      reading: countsOf(appliedN * (1 + massError) * (1 + gravityError)),
      direction: 'up' as const,
      cycle: c + 1,
    })),
  ).flat()
  const doubt = (source: string, share: number): AppliedDoubt => ({
    source,
    movesN: Float64Array.from(points, p => (p.appliedN * share) / Math.sqrt(3)),
    shape: 'rectangular',
  })
  const doubts = [
    ...(rig.massShare > 0 ? [doubt('masses', rig.massShare)] : []),
    ...(rig.gravityShare > 0 ? [doubt('gravity', rig.gravityShare)] : []),
  ]
  const outcome = calibrate(
    { name: 'made up', points, doubts, gravity: typedGravity(9.81, 0), readingUnit: 'counts' },
    { degree: rig.bendShare > 0 ? 2 : 1 },
  )
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  const { coefficients, uncertainty } = outcome.value
  const { expandedN } = uncertainty.find(u => u.atN === atN)!
  return Math.abs(polynomialAt(coefficients, countsOf(atN)) - atN) <= expandedN
}

describe('the expanded uncertainty holds the truth 95 times in 100', () => {
  for (const rig of rigs)
    for (const atN of [rig.loadsN[1]!, rig.loadsN.at(-1)!])
      test(`${rig.name}, at ${atN} N`, () => {
        let held = 0
        for (let seed = 0; seed < CALIBRATIONS; seed++) held += covered(rig, atN, 7 + seed) ? 1 : 0
        const share = held / CALIBRATIONS
        console.log(`coverage, ${rig.name}, at ${atN} N: ${(100 * share).toFixed(1)} %`)
        expect(share).toBeGreaterThanOrEqual(0.93)
        expect(share).toBeLessThanOrEqual(0.97)
      })
})
