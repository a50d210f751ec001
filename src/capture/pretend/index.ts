/** A rig that is not there: seeded pulls whose truth is known, for tests, the demo and a live source without hardware. */

export { type DemoSpecimen, demoStudy } from './demo.ts'
export { DEMO } from './demoFacts.ts'
export { demoRig } from './demoRig.ts'
export { RATES_HZ, ZEROINGS } from './kinds/start.ts'
export { curveKinds, type PretendKind, pretendKinds } from './kinds.ts'
export { pretendLines } from './lines.ts'
export { makePull } from './makePull.ts'
export { makeRigCheck, type RigCheckSpec } from './rigCheck.ts'
export type { Truth } from './truth.ts'
