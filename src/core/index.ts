/** The engine: numbers in, numbers out. Public names in reading order. */

export { type AppliedOptions, applyLoads } from './calibration/applied.ts'
export { applyRig, type RigApplied } from './calibration/applyRig.ts'
export { type CalibrateOptions, type CalibrationInput, calibrate } from './calibration/calibrate.ts'
export { type CheckChart, checkChart } from './calibration/checkChart.ts'
export type { Check } from './calibration/checkDocument.ts'
export type { Calibration, Verdict } from './calibration/document.ts'
export { judgeCheck } from './calibration/judgeCheck.ts'
export { type LeastSquares, leastSquares } from './calibration/leastSquares.ts'
export type { AppliedDoubt, Point } from './calibration/points.ts'
export { type PointsTable, readPointRows } from './calibration/pointsTable.ts'
export { fitPolynomial, type PolynomialFit } from './calibration/polynomial.ts'
export { scaleByOneMass, scaleByTypedDoubt } from './calibration/quickScale.ts'
export { massOf, REFERENCE_GUIDE } from './calibration/references.ts'
export type { QuickScale, Rig } from './calibration/rig.ts'
export { gravityOf, tensionOf } from './calibration/rigFacts.ts'
export { creepOf, settlingOf } from './calibration/settling.ts'
export { rigStiffness } from './calibration/stiffness.ts'
export { coverageFactor, effectiveDf, expand } from './doubt/expanded.ts'
export { expandedInput, type Input, normalInput, rectangularInput, triangularInput } from './doubt/input.ts'
export { type MonteCarlo, monteCarlo } from './doubt/monteCarlo.ts'
export { propagate, resultCovariance } from './doubt/propagate.ts'
export { sampledCorrelation, sampledInput } from './doubt/sampled.ts'
export type { Health, HealthFinding } from './health/document.ts'
export { judgeHealth } from './health/judgeHealth.ts'
export type { HealthOptions, HealthRecord } from './health/types.ts'
export { healthWords } from './health/units.ts'
export { printable } from './printable.ts'
export { fine, type Outcome, type Problem, problemText, wrong } from './problem.ts'
export {
  type Adjustment,
  adjustmentText,
  amendmentsOf,
  withAdjustment,
  withoutAdjustment,
} from './reading/adjustment.ts'
export { correctedForce } from './reading/correctedForce.ts'
export type { BudgetLine, PeakForce, Pull, Reading, ReadingEvent, Results, Zero } from './reading/document.ts'
export { type Explanation, explain, type Why } from './reading/explain.ts'
export {
  type Ledger,
  type LedgerAmounts,
  ledgerAmounts,
  ledgerOf,
  type ShowForce,
} from './reading/explainLedger.ts'
export { type JoinedCurve, type JoinedCurveOptions, joinedCurve } from './reading/joinedCurve.ts'
export { type ReadingOptions, readRecording } from './reading/readRecording.ts'
export type { Scale } from './reading/scale.ts'
export type { Assumption, Channel, ChannelKind, Note, Recording, Segment } from './recording.ts'
export { buildPyramid, type Pyramid, sliceForDisplay, type Thinned } from './signal/pyramid.ts'
export { thinned } from './signal/thin.ts'
export { type CompareOptions, compareGroups } from './statistics/compare/compareGroups.ts'
export { type ComparedStudy, compareStudy, type StudyComparison } from './statistics/compare/compareStudy.ts'
export { type SpecimenFacts, specimenOfReading } from './statistics/compare/fromReading.ts'
export { DEFAULT_PATTERN, type NamedParts, namePattern } from './statistics/compare/namePattern.ts'
export { WORTH_SHARE } from './statistics/compare/needMore.ts'
export { type Dimensions, PER, type Per, perDimension } from './statistics/compare/perDimension.ts'
export { QUANTITIES, type Quantity, quantityWords } from './statistics/compare/quantity.ts'
export { plainSpecimen, type Specimen } from './statistics/compare/specimen.ts'
export type { Comparison } from './statistics/document.ts'
export { andersonDarling } from './statistics/group/andersonDarling.ts'
export { type BootstrapOptions, bcaInterval } from './statistics/group/bootstrap.ts'
export { dixon } from './statistics/group/dixon.ts'
export { generalizedEsd } from './statistics/group/generalizedEsd.ts'
export { grubbs } from './statistics/group/grubbs.ts'
export { type Interval, meanInterval, sdInterval } from './statistics/group/intervals.ts'
export { normalBoundFactor, normalLowerBound, orderLowerBound } from './statistics/group/lowerBound.ts'
export type { Missing } from './statistics/group/missing.ts'
export { lag1Autocorrelation, mean, median, standardDeviation } from './statistics/group/moments.ts'
export { suspects } from './statistics/group/outliers.ts'
export { type PlotPosition, plotPositions } from './statistics/group/plotPositions.ts'
export { shapiroWilk, type TestResult } from './statistics/group/shapiroWilk.ts'
export {
  type Bounds,
  type GroupSummary,
  type LowerBounds,
  type SummaryOptions,
  summariseGroup,
  type WeibullSummary,
} from './statistics/group/summary.ts'
export type { Suspect } from './statistics/group/suspect.ts'
export { fitWeibull, type WeibullData, type WeibullFit } from './statistics/group/weibullFit.ts'
export {
  type StrengthLimits,
  type WeibullStrengths,
  weibullStrengths,
} from './statistics/group/weibullStrengths.ts'
export { adviceSoFar, type PairAdvice } from './statistics/plan/advice.ts'
export type { Plan } from './statistics/plan/document.ts'
export { makePlan, type PlanOptions } from './statistics/plan/makePlan.ts'
export { detectableDifference, perGroupForDifference, powerOf } from './statistics/plan/power.ts'
export { type RigCheck, rigChecks } from './statistics/plan/rigChecks.ts'
export { type Random, seededRandom, shuffled } from './statistics/random.ts'
export {
  FORCE_UNITS,
  type ForceUnit,
  fromNewton,
  type LogForceUnit,
  N_PER,
  parseForceUnit,
  toNewton,
} from './units/force.ts'
export { type Gravity, gravityAt, normalGravity, STANDARD_GRAVITY_MS2 } from './units/gravity.ts'
export { decimalsFor, plainNumber, showForce, showForceBetween, threeDigits } from './units/showForce.ts'
export { ENGINE_VERSION } from './version.ts'
