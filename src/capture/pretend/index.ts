/** A rig that is not there: seeded pulls whose truth is known, for tests, the demo and a live source without hardware. */

export { type Character, characterSpec, type Trouble } from './characters.ts'
export { type DemoRow, type DemoSpecimen, demoStudy } from './demo.ts'
export { type PretendKind, pretendKinds } from './kinds.ts'
export { pretendLines, type TimedLine } from './lines.ts'
export { makePull, type PretendPull, type PullOptions, pullFrom } from './makePull.ts'
export type { PullSpec } from './spec.ts'
export type { TrueEvent, TruePull, Truth } from './truth.ts'
