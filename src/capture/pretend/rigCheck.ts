import type { Recording } from '../../core/recording.ts'
import type { Happening } from './bench.ts'
import { type ConverterSpec, convert, stepsPerOutput } from './converter.ts'
import { type Random, seeded, wordOf } from './random.ts'
import { recordingOf } from './recordings.ts'
import { type RigTroubles, type TroubleTruth, troubledCell, troubledOutput } from './troubles.ts'

/** A check of a pretend rig: what is done in each of its four steps, and what ails the rig. */
export interface RigCheckSpec {
  readonly converter: ConverterSpec
  readonly troubles: RigTroubles
  readonly freeS: number
  /** The mass is hung after ten seconds, left, and taken off for the last fifteen. */
  readonly massN: number
  readonly hungS: number
  /** Greatest force of the slow pull by hand. */
  readonly pullN: number
  readonly stiffnessNPerMm: number
  readonly backlashMm: number
}

export interface RigCheckLog {
  readonly step: 'free' | 'mass' | 'taps' | 'pull'
  readonly recording: Recording
  readonly truth: TroubleTruth
}

const EMPTY_S = 10
const AFTER_S = 15
/** A mass is let down by hand in about this time. */
const HANG_S = 0.6
const TAP_S = 0.005
const TAPS_AT_S = [4, 8, 12]
const TAPS_FOR_S = 15
const PULL_S = 12

/** A healthy rig: 80 readings a second, a fine display and little noise. */
export const healthyRig = (random: Random): ConverterSpec => ({
  rateHz: 80 * random.between(0.95, 1.05),
  passes: [1],
  noiseN: random.between(0.015, 0.03),
  unit: 'N',
  quantum: 0.001,
  limitN: null,
  jitter: 0.01,
  stampDecimals: 4,
})

/** The same seed, steps and troubles give the same check. `change` alters what the seed chose. */
export function makeRigCheck(
  seed: number,
  change: (spec: RigCheckSpec) => RigCheckSpec = spec => spec,
): { spec: RigCheckSpec; logs: RigCheckLog[] } {
  const random = seeded((wordOf('rig check') + Math.imul(seed, 0x9e3779b1)) >>> 0)
  const spec = change({
    converter: healthyRig(random),
    troubles: {},
    freeS: 60,
    massN: random.between(15, 40),
    hungS: 60,
    pullN: random.between(60, 120),
    stiffnessNPerMm: random.between(40, 120),
    backlashMm: 0,
  })
  const courses = { free: freeCourse, mass: massCourse, taps: tapCourse, pull: pullCourse }
  // The clock of the cell goes on from step to step: what warms up in the first has warmed up in the last.
  let agoS = 0
  const logs = (Object.keys(courses) as RigCheckLog['step'][]).map(step => {
    const stepS = 1 / (spec.converter.rateHz * stepsPerOutput(spec.converter.rateHz))
    const course = courses[step](spec, stepS, random)
    const aged = { ...spec.troubles, ...warmUpAfter(spec.troubles.warmUp, agoS) }
    agoS += course.forceN.length * stepS + 20
    const happening = troubledCell(asHappening(course, stepS), spec.converter, aged, random)
    const [clean] = convert(happening, spec.converter, random)
    const { output, truth } = troubledOutput(clean!, spec.converter, spec.troubles, random)
    const pull = { converter: spec.converter, logsTravel: step === 'pull' }
    return { step, recording: recordingOf(output, pull, `${step}.csv`), truth }
  })
  return { spec, logs }
}

const warmUpAfter = (warmUp: RigTroubles['warmUp'], agoS: number): Pick<RigTroubles, 'warmUp'> =>
  warmUp === undefined
    ? {}
    : { warmUp: { ...warmUp, changeN: warmUp.changeN * Math.exp(-agoS / warmUp.tauS) } }

interface Course {
  readonly forceN: Float64Array
  readonly travelMm: Float64Array
}

const courseOf = (lastsS: number, stepS: number, forceAt: (t: number) => number): Course => {
  const n = Math.round(lastsS / stepS)
  return {
    forceN: Float64Array.from({ length: n }, (_, i) => forceAt(i * stepS)),
    travelMm: new Float64Array(n),
  }
}

const freeCourse = ({ freeS }: RigCheckSpec, stepS: number): Course => courseOf(freeS, stepS, () => 0)

const massCourse = ({ massN, hungS }: RigCheckSpec, stepS: number): Course =>
  courseOf(EMPTY_S + hungS + AFTER_S, stepS, t => {
    const on = Math.min(1, Math.max(0, (t - EMPTY_S) / HANG_S))
    const off = Math.min(1, Math.max(0, (t - EMPTY_S - hungS) / HANG_S))
    return massN * (on - off)
  })

const tapCourse = ({ massN, converter }: RigCheckSpec, stepS: number, random: Random): Course => {
  const at = TAPS_AT_S.map(t => t + random.between(0, 1 / converter.rateHz))
  // As hard as a knuckle: what a reading shows of so short a blow must still stand out.
  const blowN = (massN * Math.max(1 / converter.rateHz, TAP_S) * 2.5) / TAP_S
  return courseOf(TAPS_FOR_S, stepS, t => {
    const since = at.map(a => t - a).find(s => s >= 0 && s < TAP_S)
    return since === undefined ? 0 : blowN * Math.sin((Math.PI * since) / TAP_S)
  })
}

/** Up to the force, back to almost nothing, and up again, evenly; the drive turns through its backlash at each turn. */
function pullCourse({ pullN, stiffnessNPerMm, backlashMm }: RigCheckSpec, stepS: number): Course {
  const mmPerS = pullN / stiffnessNPerMm / PULL_S
  const forces: number[] = []
  const travels: number[] = []
  let driveMm = 0
  let gripMm = 0
  const turn = (way: 1 | -1, done: () => boolean): void => {
    while (!done()) {
      driveMm += way * mmPerS * stepS
      if (driveMm - gripMm > backlashMm) gripMm = driveMm - backlashMm
      if (driveMm < gripMm) gripMm = driveMm
      forces.push(Math.max(0, gripMm * stiffnessNPerMm))
      travels.push(driveMm)
    }
  }
  const rest = (forS: number): void => {
    for (let i = 0; i < forS / stepS; i++) {
      forces.push(Math.max(0, gripMm * stiffnessNPerMm))
      travels.push(driveMm)
    }
  }
  rest(4)
  turn(1, () => gripMm * stiffnessNPerMm >= pullN)
  turn(-1, () => gripMm <= 0)
  rest(4)
  return { forceN: Float64Array.from(forces), travelMm: Float64Array.from(travels) }
}

function asHappening({ forceN, travelMm }: Course, stepS: number): Happening {
  return {
    stepS,
    forceN,
    asideN: new Float64Array(forceN.length),
    driftN: new Float64Array(forceN.length),
    travelMm,
    backing: new Uint8Array(forceN.length),
    fractures: [],
    slips: [],
    zeros: [],
    logs: [{ from: 0, to: forceN.length }],
    regrips: [],
  }
}
