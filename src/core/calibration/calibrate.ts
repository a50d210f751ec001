import { fine, type Outcome, wrong } from '../problem.ts'
import { type LogForceUnit, toNewton } from '../units/force.ts'
import type { Gravity } from '../units/gravity.ts'
import { ENGINE_VERSION } from '../version.ts'
import { classify } from './accuracyClass.ts'
import { behaviourOf } from './behaviour.ts'
import { pointProblems, pointWarnings } from './checkPoints.ts'
import { chooseDegree } from './chooseDegree.ts'
import { LIMITS_NOTE } from './classLimits.ts'
import type { Calibration, Verdict, Warning } from './document.ts'
import { indicationErrors } from './errors.ts'
import { fitWarnings, hysteresisWarnings, suspectWarnings } from './fitWarnings.ts'
import { type AppliedDoubt, type Point, stepsOf } from './points.ts'
import { fitPolynomial, type PolynomialFit, polynomialAt, slopeAt } from './polynomial.ts'
import { readingAt } from './readingAt.ts'
import { readingStep } from './resolution.ts'
import { byDraws, modelOf, scaleOf, uncertaintyAt } from './scaleDoubt.ts'
import { suspectPoints } from './suspects.ts'

export interface CalibrationInput {
  /** Points file, for messages and the document. */
  readonly name: string
  readonly points: readonly Point[]
  readonly doubts: readonly AppliedDoubt[]
  readonly gravity: Gravity
  readonly readingUnit: LogForceUnit
  /** Decimals of the readings as written; found from the numbers where not given. */
  readonly readingDecimals?: number
  readonly warnings?: readonly Warning[]
}

export interface CalibrateOptions {
  /** 1 or 2 by the rule of {@link chooseDegree} unless given; 3 only when asked for. */
  readonly degree?: 1 | 2 | 3
  readonly throughZero?: boolean
  /** Smallest step of a reading, in its unit; found from the readings where not given. */
  readonly resolution?: number
  /** Greatest force that the rig is used for. */
  readonly usedToN?: number
  /** Lines of the points file to leave out of the fit; they stay in the document. */
  readonly leaveOut?: readonly number[]
  /** `2026-05-03`. */
  readonly date?: string
  /** Fit the loads on the way up only, as a pull goes; the way down then only tells reversibility. */
  readonly risingOnly?: boolean
  /** Draws of a Monte Carlo check of the greatest step; none where not given. */
  readonly monteCarloTrials?: number
  readonly seed?: number
}

/**
 * Known forces against readings → fit, errors, class and doubt. The force is fitted as a polynomial of the reading, since
 * that is how it is used; for readings that scatter by a per cent or less the other way round gives the same line.
 */
export function calibrate(input: CalibrationInput, options: CalibrateOptions = {}): Outcome<Calibration> {
  const { name, points, readingUnit, gravity } = input
  const { throughZero = false } = options
  const out = new Set(options.leaveOut ?? [])
  const unknown = [...out].filter(line => !points.some(p => p.line === line))
  if (unknown.length > 0)
    return wrong({
      where: name,
      what: `no point stands in line ${unknown.join(', ')}.`,
      cure: 'Leave points out by their line in the file.',
    })
  const kept = points.filter(p => !out.has(p.line))
  const fitted = points
    .map((_, i) => i)
    .filter(i => !out.has(points[i]!.line) && !(options.risingOnly && points[i]!.direction === 'down'))
  const used = fitted.map(i => points[i]!)
  const doubts = input.doubts.map(d => ({ ...d, movesN: Float64Array.from(fitted, i => d.movesN[i]!) }))
  const coefficients = (options.degree ?? 1) + (throughZero ? 0 : 1)
  const problems = pointProblems(name, used, { coefficients, throughZero })
  if (problems.length > 0) return wrong(...problems)

  const resolution =
    options.resolution ??
    readingStep(
      points.map(p => p.reading),
      input.readingDecimals,
    )
  const chosen = choose(used, doubts, resolution, options)
  if (chosen === null)
    return wrong({
      where: name,
      what: 'the readings cannot carry this fit: too few of them differ.',
      cure: 'Add loads, or ask for a lower degree.',
      code: 'too-few-readings-differ',
    })
  const { fit, degreeWhy, weights } = chosen
  const forceOf = (reading: number) => polynomialAt(fit.coefficients, reading)
  const turning = turnsWithin(fit, used)
  if (turning)
    return wrong({
      where: name,
      what: 'the fitted curve turns back within the range: one reading would stand for two forces.',
      cure: 'Ask for a straight line, and look at the points for a wrong one.',
      code: 'fit-turns-back',
    })

  const zeroReading = zeroOf(used, fit)
  const model = modelOf(used, doubts, fit, zeroReading, resolution)
  const steps = stepsOf(used).filter(step => step.appliedN > 0)
  const topN = steps.at(-1)!.appliedN
  const suspects = new Set(suspectPoints(fit, weights ?? undefined).map(i => fitted[i]!))
  const forcesPct = forcesPctOf(
    kept,
    kept.map(p => input.doubts.map(d => d.movesN[points.indexOf(p)]!)),
  )
  const unknownLoads = (input.warnings ?? []).some(w => w.code === 'loads-without-doubt')
  const verdicts = verdictsOf(kept, readingUnit, forceOf, fit, { resolution, forcesPct })
  const warnings = [
    ...(input.warnings ?? []),
    ...pointWarnings(kept, options.usedToN ?? null),
    ...suspectWarnings(points, suspects),
    ...fitWarnings(used, fit, readingUnit),
    ...hysteresisWarnings(model),
  ]
  return fine({
    document: 'tenterhook.calibration',
    version: 1,
    engine: ENGINE_VERSION,
    name,
    date: options.date ?? null,
    gravity: gravity.ms2,
    gravityFrom: { halfWidthMs2: gravity.halfWidthMs2, from: gravity.from, text: gravity.text },
    readingUnit,
    resolution,
    form: 'force = c0 + c1 reading + c2 reading² …',
    degree: fit.degree,
    throughZero,
    degreeWhy,
    weighted: weights !== null,
    coefficients: [...fit.coefficients],
    standardErrors: [...fit.standardErrors],
    residualSd: fit.residualSd,
    df: fit.df,
    zeroReading,
    points: points.map((point, i) => ({
      ...point,
      residualN: point.appliedN - forceOf(point.reading),
      used: fitted.includes(i),
      suspect: suspects.has(i),
    })),
    ...unsure(verdicts.asRead, unknownLoads),
    corrected: verdicts.corrected && unsure(verdicts.corrected, unknownLoads),
    limitsNote: LIMITS_NOTE,
    behaviour: behaviourOf(
      kept,
      kept.map(p => forceOf(p.reading)),
      zeroReading,
      verdicts.asRead.errors.zeroPct,
    ),
    calibratedRange: { fromN: stepsOf(used)[0]!.appliedN, toN: topN },
    uncertainty: steps.map(step => uncertaintyAt(model, step.appliedN)),
    scale: scaleOf(model, [0, ...steps.map(s => s.appliedN), 1.5 * topN, 3 * topN], topN),
    monteCarlo:
      options.monteCarloTrials === undefined
        ? null
        : byDraws(model, doubts, topN, options.monteCarloTrials, options.seed ?? 1),
    warnings,
  })
}

interface Chosen {
  readonly fit: PolynomialFit
  readonly degreeWhy: string
  readonly weights: Float64Array | null
}

function choose(
  points: readonly Point[],
  doubts: readonly AppliedDoubt[],
  resolution: number | null,
  { degree, throughZero = false }: CalibrateOptions,
): Chosen | null {
  const x = points.map(p => p.reading)
  const y = points.map(p => p.appliedN)
  const line = fitPolynomial(x, y, { degree: degree ?? 1, throughZero })
  if (line === null) return null
  const weights = weightsOf(points, doubts, line)
  const common = weights === null ? { throughZero } : { throughZero, weights }
  const stepN = Math.abs((resolution ?? 0) * slopeAt(line.coefficients, x[0]!))
  const rule =
    degree === undefined ? chooseDegree(points, { ...common, stepN }) : { degree, why: 'degree as asked for' }
  const fit = fitPolynomial(x, y, { degree: rule.degree, ...common })
  return fit === null ? null : { fit, degreeWhy: rule.why, weights }
}

/**
 * 1/(s² + u²), with s the scatter about an unweighted fit and u the doubt of each load alone (gravity moves all alike).
 * Only where it matters: the doubts differ by more than twice, and the greatest is beyond a third of the scatter.
 */
function weightsOf(
  points: readonly Point[],
  doubts: readonly AppliedDoubt[],
  line: PolynomialFit,
): Float64Array | null {
  const own = doubts.filter(d => d.source !== 'gravity' && d.source !== 'air buoyancy')
  const standards = points.map((_, i) => Math.hypot(...own.map(d => d.movesN[i]!)))
  const loaded = standards.filter((_, i) => points[i]!.appliedN > 0)
  const most = Math.max(...loaded)
  const scatter = line.residualSd ?? 0
  if (!(most > 2 * Math.min(...loaded)) || most <= scatter / 3 || scatter === 0) return null
  const raw = standards.map(u => 1 / (scatter ** 2 + u ** 2))
  const middle = raw.reduce((sum, w) => sum + w / raw.length, 0)
  return Float64Array.from(raw, w => w / middle)
}

/** The reading of the empty hook: measured before loading, else where the fit crosses zero. */
function zeroOf(points: readonly Point[], fit: PolynomialFit): number {
  const empty = points.filter(p => p.appliedN === 0)
  const before = empty.filter(p => p.direction === 'up')
  const from = before.length > 0 ? before : empty
  if (fit.throughZero) return 0
  if (from.length > 0) return from.reduce((sum, p) => sum + p.reading / from.length, 0)
  return (
    readingAt(
      fit.coefficients,
      0,
      points.map(p => p.reading),
    ) ?? points[0]!.reading
  )
}

/** A class by loads of which nobody said how well they are known holds as far as these are right. */
const unsure = (verdict: Verdict, unknownLoads: boolean): Verdict =>
  unknownLoads && verdict.class !== null
    ? {
        ...verdict,
        why: `${verdict.why} Only as far as the loads are right: nobody said how well they are known.`,
      }
    : verdict

/** 95 % half-width of the true force at a step, in per cent of it: the least well known of its points. */
function forcesPctOf(
  points: readonly Point[],
  moves: readonly (readonly number[])[],
): (atN: number) => number {
  const byStep = new Map(
    stepsOf(points).map(({ appliedN, at }) => [
      appliedN,
      Math.max(...at.map(i => (100 * NORMAL_95 * Math.hypot(...moves[i]!)) / points[i]!.appliedN)),
    ]),
  )
  return atN => byStep.get(atN) ?? 0
}

const NORMAL_95 = 1.959_963_984_540_054

/** Readings in a force unit are judged as they stand and with the fit; counts only with the fit. */
function verdictsOf(
  points: readonly Point[],
  unit: LogForceUnit,
  forceOf: (reading: number) => number,
  fit: PolynomialFit,
  { resolution, forcesPct }: { resolution: number | null; forcesPct: (atN: number) => number },
) {
  const fitted = points.map(p => forceOf(p.reading))
  const stepBy = (slope: number) => (resolution === null ? null : Math.abs(resolution * slope))
  const slope = slopeAt(fit.coefficients, points[0]!.reading)
  const corrected = classify(
    indicationErrors(points, fitted, () => stepBy(slope)),
    forcesPct,
  )
  if (unit === 'counts') return { asRead: corrected, corrected: null }
  const shown = points.map(p => toNewton(p.reading, unit))
  return {
    asRead: classify(
      indicationErrors(points, shown, () => stepBy(toNewton(1, unit))),
      forcesPct,
    ),
    corrected,
  }
}

function turnsWithin(fit: PolynomialFit, points: readonly Point[]): boolean {
  if (fit.degree < 2) return false
  const readings = points.map(p => p.reading)
  const low = Math.min(...readings)
  const high = Math.max(...readings)
  const slopes = Array.from({ length: 33 }, (_, k) =>
    slopeAt(fit.coefficients, low + ((high - low) * k) / 32),
  )
  return Math.min(...slopes) * Math.max(...slopes) <= 0
}
