/** The engine: numbers in, numbers out. Public names in reading order. */

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
export { type Explanation, explain, type Why } from './reading/explain.ts'
export { type Ledger, ledgerOf, type ShowForce } from './reading/explainLedger.ts'
export { type JoinedCurve, type JoinedCurveOptions, joinedCurve } from './reading/joinedCurve.ts'
export { type ReadingOptions, readRecording } from './reading/readRecording.ts'
export type { Scale } from './reading/scale.ts'
export type { Assumption, Channel, ChannelKind, Note, Recording, Segment } from './recording.ts'
export { buildPyramid, type Pyramid, sliceForDisplay, type Thinned } from './signal/pyramid.ts'
export { thinned } from './signal/thin.ts'
export {
  FORCE_UNITS,
  type ForceUnit,
  fromNewton,
  type LogForceUnit,
  N_PER,
  parseForceUnit,
  toNewton,
} from './units/force.ts'
export { STANDARD_GRAVITY_MS2 } from './units/gravity.ts'
export { decimalsFor, plainNumber, showForce, showForceBetween, threeDigits } from './units/showForce.ts'
export { ENGINE_VERSION } from './version.ts'
