import { describe, expect, test } from 'vitest'
import { calibrate } from '../../../src/core/calibration/calibrate.ts'
import type { AppliedDoubt, Point } from '../../../src/core/calibration/points.ts'
import { polynomialAt } from '../../../src/core/calibration/polynomial.ts'
import { scaleStandardN } from '../../../src/core/reading/scale.ts'
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

function madeUp(rig: Rig, seed: number) {
  const random = seededRandom(seed)
  const massError = flat(random, rig.massShare)
  const gravityError = flat(random, rig.gravityShare)
  const topN = Math.max(...rig.loadsN)
  const countsOf = (forceN: number, noiseN = rig.noiseN) =>
    50_000 + 2000 * (forceN + rig.bendShare * topN * (forceN / topN) ** 2 + noiseN * random.normal())
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
  return { calibration: outcome.value, countsOf }
}

/** Whether the interval for one new reading under a force of `atN` holds that force. */
function covered({ calibration, countsOf }: ReturnType<typeof madeUp>, atN: number): boolean {
  const { coefficients, uncertainty } = calibration
  const { expandedN } = uncertainty.find(u => u.atN === atN)!
  return Math.abs(polynomialAt(coefficients, countsOf(atN)) - atN) <= expandedN
}

/** Whether the scale's doubt, as a reading uses it, holds a force counted from the record's own zero. */
function coveredFromZero(rig: Rig, atN: number, seed: number): boolean {
  const made = madeUp(rig, seed)
  const { coefficients, scale } = made.calibration
  // The record's zero has its own noise, which the reading knows; here it is averaged away.
  const zeroN = polynomialAt(coefficients, made.countsOf(0, 0))
  const forceN = polynomialAt(coefficients, made.countsOf(atN)) - zeroN
  const standardN = scaleStandardN({ source: '', shared: 'rig', points: scale }, atN)
  return Math.abs(forceN - atN) <= 1.96 * standardN
}

describe('the expanded uncertainty holds the truth 95 times in 100', () => {
  for (const rig of rigs)
    test(rig.name, () => {
      const loadsN = [rig.loadsN[1]!, rig.loadsN.at(-1)!]
      const held = loadsN.map(() => 0)
      for (let seed = 0; seed < CALIBRATIONS; seed++) {
        const made = madeUp(rig, 7 + seed)
        for (const [i, atN] of loadsN.entries()) held[i]! += covered(made, atN) ? 1 : 0
      }
      for (const [i, atN] of loadsN.entries()) {
        const share = held[i]! / CALIBRATIONS
        console.log(`coverage, ${rig.name}, at ${atN} N: ${(100 * share).toFixed(1)} %`)
        expect(share).toBeGreaterThanOrEqual(0.93)
        expect(share).toBeLessThanOrEqual(0.97)
      }
    })
})

describe('so does the scale that a reading is given', () => {
  for (const rig of rigs)
    test(rig.name, () => {
      const atN = rig.loadsN.at(-1)!
      let held = 0
      for (let seed = 0; seed < CALIBRATIONS; seed++) held += coveredFromZero(rig, atN, 5003 + seed) ? 1 : 0
      const share = held / CALIBRATIONS
      console.log(`coverage of the scale, ${rig.name}, at ${atN} N: ${(100 * share).toFixed(1)} %`)
      expect(share).toBeGreaterThanOrEqual(0.93)
      expect(share).toBeLessThanOrEqual(0.97)
    })
})
