import { scaleStandardN } from '../reading/scale.ts'
import { normalQuantile } from '../statistics/distributions/normal.ts'
import { tQuantile } from '../statistics/distributions/t.ts'
import { ageWarnings } from './calibrationAge.ts'
import { ALARM, type CheckChart, checkChart, LEAST_DAYS } from './checkChart.ts'
import type { Check } from './checkDocument.ts'
import type { Warning } from './document.ts'
import type { Rig, RigCalibration } from './rig.ts'
import { scaleOfCalibration } from './rigScale.ts'

export interface CheckFigures {
  readonly at: string
  readonly appliedN: number
  readonly appliedStandardN: number
  readonly indicatedN: number
  readonly indicatedStandardN: number
  readonly zeroN: number | null
  /** Greatest force on the cell while checking; `null` where only readings were typed. */
  readonly greatestN: number | null
}

export interface JudgedCheck {
  readonly check: Check
  readonly errorPct: number
  /** What the error may be by the calibration's doubt, or by the user's own limit. */
  readonly limitPct: number | null
  readonly chart: CheckChart | null
}

/** One healthy check in 200 may be called out; by the normal distribution. */
const NORMAL_200 = normalQuantile(1 - ALARM)

/**
 * Standard deviation from day to day, in per cent, taken for a rig of which fewer than three earlier checks are known
 * (common practice, no source: warmth, grip and hook of home-made rigs move them so much).
 */
export const UNKNOWN_DAYS_PCT = 1

/** A zero that moved by this share of the greatest calibrated force tells of an overload (common practice, no source). */
const ZERO_SHARE = 0.01

/** What the chart alone says: a word of warning while the error is within its limit, since the scale still serves. */
const CHART_CODES: ReadonlySet<string> = new Set(['outside-chart', 'drift'])

/** What the chart told of drifting must not teach it to take the drift for scatter. */
const isSound = ({ verdict, findings }: Check): boolean =>
  verdict === 'within' && !findings.some(({ code }) => CHART_CODES.has(code))

/** Loads closer than this are one mass, whose own error is the same each time. */
const SAME_MASS = 0.005

export const errorPctOf = ({ appliedN, indicatedN }: Pick<Check, 'appliedN' | 'indicatedN'>): number =>
  (100 * (indicatedN - appliedN)) / appliedN

/**
 * One daily check against the calibration in force and against the rig's earlier checks with the same mass.
 * Out when the error passes its limit, all checks together lie further off than the calibration allows, the zero has moved far or the cell was overloaded. What only the chart shows, and
 * a calibration that is too old, are told but put no check out, unless there is no limit to hold the error against.
 */
export function judgeCheck(
  figures: CheckFigures,
  earlier: readonly Check[],
  rig: Rig,
  calibration: RigCalibration | null,
): JudgedCheck {
  const errorPct = errorPctOf(figures)
  const since = comparable(earlier, figures, calibration)
  const ownPct = (100 * Math.hypot(figures.appliedStandardN, figures.indicatedStandardN)) / figures.appliedN
  const chart = checkChart(
    since.map(c => ({ value: errorPctOf(c), sound: isSound(c) })),
    errorPct,
    (100 * figures.indicatedStandardN) / figures.appliedN,
  )
  const limitPct = limitOf(figures, rig, { calibration, ownPct, chart })
  const findings: Warning[] = []
  const say = (code: string, text: string) => void findings.push({ code, text })
  const shown = `${errorPct >= 0 ? '+' : '−'}${Math.abs(errorPct).toFixed(2)} %`
  const lasting = lastingError(chart, errorPct, scaleLimitOf(figures, rig, calibration, ownPct))
  if (limitPct !== null && Math.abs(errorPct) > limitPct)
    say(
      'scale-moved',
      `The rig reads ${shown} off the known mass; up to ±${limitPct.toFixed(2)} % is within its doubt${chart === null && rig.limits.checkPct === undefined ? ` and ${UNKNOWN_DAYS_PCT} % of scatter from day to day, taken until ${LEAST_DAYS} checks show it` : ''}. Calibrate anew.`,
    )
  else if (lasting !== null)
    say(
      'scale-moved',
      `All checks so far lie ${two(lasting)} % off the known mass on average, more than the calibration's doubt allows. Calibrate anew.`,
    )
  if (chart !== null && (errorPct > chart.high || errorPct < chart.low))
    say(
      'outside-chart',
      `${shown} lies outside what the earlier checks make likely (${two(chart.low)} to ${two(chart.high)} %).`,
    )
  else if (chart !== null && Math.abs(chart.drift) > 1)
    say(
      'drift',
      `The latest checks lie ${chart.drift > 0 ? 'above' : 'below'} the earlier ones together, though none alone: the scale drifts.`,
    )
  const zero = zeroMove(figures, calibration)
  if (zero !== null)
    say(
      'zero-moved-far',
      `The empty hook reads ${three(zero.movedN)} N away from the calibration's zero, over 1 % of its range. A cell that was overloaded keeps such a zero: check it, then calibrate anew.`,
    )
  const { capacityN } = rig.cell
  if (
    figures.greatestN !== null &&
    capacityN !== undefined &&
    figures.greatestN >= rig.limits.overShare * capacityN
  )
    say(
      'over-capacity',
      `The cell was loaded to ${Math.round((100 * figures.greatestN) / capacityN)} % of its capacity.`,
    )
  const out = findings.some(({ code }) => limitPct === null || !CHART_CODES.has(code))
  const age = ageWarnings(rig, calibration, figures.at.slice(0, 10))
  if (calibration === null)
    say(
      'not-calibrated',
      'The rig has no calibration: the check is kept, but nothing tells what it ought to be.',
    )
  return {
    check: {
      document: 'tenterhook.check',
      version: 1,
      at: figures.at,
      appliedN: figures.appliedN,
      appliedStandardN: figures.appliedStandardN,
      indicatedN: figures.indicatedN,
      indicatedStandardN: figures.indicatedStandardN,
      zeroN: figures.zeroN,
      calibration: calibration?.date ?? null,
      verdict: out ? 'out' : 'within',
      findings: [...findings, ...age],
    },
    errorPct,
    limitPct,
    chart,
  }
}

/** Checks before this one, under the same calibration and with the same mass: only these scatter by the rig alone. */
export const comparable = (
  earlier: readonly Check[],
  { at, appliedN }: Pick<Check, 'at' | 'appliedN'>,
  calibration: Pick<RigCalibration, 'date'> | null,
): Check[] =>
  earlier.filter(
    c =>
      c.calibration === (calibration?.date ?? null) &&
      c.at < at &&
      Math.abs(c.appliedN / appliedN - 1) < SAME_MASS,
  )

interface Known {
  readonly calibration: RigCalibration | null
  readonly ownPct: number
  readonly chart: CheckChart | null
}

/**
 * What one check may read off: the calibration's doubt and the check's own, and how the rig scatters from day to day, by the
 * earlier checks (t of a next value) or, while there are too few, by what is taken until then.
 */
function limitOf(figures: CheckFigures, rig: Rig, { calibration, ownPct, chart }: Known): number | null {
  if (rig.limits.checkPct !== undefined) return rig.limits.checkPct
  const scalePct = scaleLimitOf(figures, rig, calibration, ownPct)
  if (scalePct === null) return null
  return Math.hypot(scalePct, chart === null ? NORMAL_200 * UNKNOWN_DAYS_PCT : (chart.high - chart.low) / 2)
}

/** By how much a scale within its calibration's doubt may be wrong for good, with this check's own doubt; once in 200. */
function scaleLimitOf(
  { appliedN }: CheckFigures,
  rig: Rig,
  calibration: RigCalibration | null,
  ownPct: number,
): number | null {
  if (calibration === null) return null
  const scalePct = (100 * scaleStandardN(scaleOfCalibration(calibration, rig), appliedN)) / appliedN
  return NORMAL_200 * Math.hypot(scalePct, ownPct)
}

/** The mean of all checks, where it lies further off than the calibration allows: an error that stays. */
function lastingError(
  chart: CheckChart | null,
  errorPct: number,
  scaleLimitPct: number | null,
): number | null {
  if (chart === null || scaleLimitPct === null) return null
  const n = chart.from + 1
  const mean = (chart.centre * chart.from + errorPct) / n
  const scatter = (tQuantile(1 - ALARM, chart.from - 1) * chart.sd) / Math.sqrt(n)
  return Math.abs(mean) > Math.hypot(scaleLimitPct, scatter) ? mean : null
}

function zeroMove({ zeroN }: CheckFigures, calibration: RigCalibration | null): { movedN: number } | null {
  if (zeroN === null || calibration === null) return null
  const topN =
    calibration.document === 'tenterhook.calibration' ? calibration.calibratedRange.toN : calibration.appliedN
  if (topN === null) return null
  return Math.abs(zeroN) > ZERO_SHARE * topN ? { movedN: zeroN } : null
}

const three = (value: number): string => String(Number(value.toPrecision(3))).replace('-', '−')

const two = (value: number): string => value.toFixed(2).replace('-', '−')
