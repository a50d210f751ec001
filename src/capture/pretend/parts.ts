import type { Act, BenchSpec } from './bench.ts'
import type { ConverterSpec } from './converter.ts'
import type { DriveSpec } from './drive.ts'
import { tearsAtMm } from './ductile.ts'
import type { FaultSpec } from './faults.ts'
import type { Random } from './random.ts'
import type { PullSpec } from './spec.ts'
import type { BundleSpec, PartSpec, PullOutSpec } from './specimen.ts'
import type { Relaxation } from './spring.ts'

/** Building blocks of the recipes: plausible draws of rig, specimen and converter for forces of tens to hundreds of newton. */

export const relaxes = (random: Random, most = 0.06): Relaxation[] => [
  { share: random.between(0.1, 1) * most, tauS: random.between(0.4, 1.5) },
  { share: random.between(0.1, 1) * most, tauS: random.between(6, 25) },
]

/** A bundle of equal elements that together reach about `aboutN`. */
export function bundle(
  random: Random,
  elements: number,
  aboutN: number,
  scatter = random.between(0.1, 0.26),
): BundleSpec {
  const stretchMm = random.between(2, 6)
  const strengthN = aboutN / elements / (1 - 0.9 * scatter)
  return {
    law: 'bundle',
    elements,
    strengthN,
    stiffnessNPerMm: strengthN / stretchMm,
    strengthScatter: scatter,
    stiffnessScatter: random.pick([0, 0, 0.01, 0.03]),
    toeMm: random.between(0.05, 0.5),
    relaxation: relaxes(random),
    holdOutS: random.between(0.0005, 0.004),
    slackMm: 0,
    counted: true,
  }
}

/** A single looser part that takes over after the bundle has let go. */
export function innerPart(random: Random, aboutN: number, slackMm: number): BundleSpec {
  const stretchMm = random.between(1.5, 5)
  return {
    ...bundle(random, 1, aboutN, 0.05),
    stiffnessNPerMm: aboutN / stretchMm,
    slackMm,
    counted: false,
  }
}

export function pullOut(random: Random, peakN: number): PullOutSpec {
  const peakMm = random.between(2, 5)
  return {
    law: 'pull-out',
    peakN,
    peakMm,
    tail: random.between(0.8, 1.4),
    endMm: peakMm * random.between(4, 6),
    snapMm: null,
    roughness: random.between(0, 0.012),
    toeMm: random.between(0.1, 0.8),
    relaxation: relaxes(random, 0.03),
  }
}

/** Stretch at which a part reaches its greatest force, and its stiffness there: what rig and drive are fitted to. */
function span(part: PartSpec): { mm: number; nPerMm: number; peakN: number } {
  if (part.law === 'ductile')
    return { mm: tearsAtMm(part) - part.neckMm, nPerMm: part.stiffnessNPerMm, peakN: part.peakN }
  return part.law === 'bundle'
    ? {
        mm: part.strengthN / part.stiffnessNPerMm,
        nPerMm: part.stiffnessNPerMm * part.elements,
        peakN: part.strengthN * part.elements,
      }
    : { mm: part.peakMm, nPerMm: (2.7 * part.peakN) / part.peakMm, peakN: part.peakN }
}

/** Rig and drive for a specimen: `softness` is specimen stiffness over rig stiffness, `secondsToPeak` the pace. */
export function benchFor(
  random: Random,
  parts: BenchSpec['parts'],
  {
    softness = random.between(0.03, 0.65),
    secondsToPeak = random.between(3, 10),
    by = random.pick(['hand', 'hand', 'motor'] as const),
    pauses = null as DriveSpec['pauses'],
  } = {},
): Omit<BenchSpec, 'acts'> {
  const { mm, nPerMm, peakN } = span(parts[0]!)
  const rigStiffnessNPerMm = nPerMm / softness
  return {
    rigStiffnessNPerMm,
    drive: {
      by,
      speedMmPerS: (mm + peakN / rigStiffnessNPerMm) / secondsToPeak,
      swing: by === 'hand' ? random.between(0.15, 0.6) : random.between(0, 0.03),
      turnsPerS: by === 'hand' ? random.between(0.5, 1.6) : random.between(2, 9),
      pauses,
    },
    parts,
    slips: [],
    fallenWeightN: random.pick([0, 0, random.between(0, 0.03)]),
    driftNPerS: 0,
    wanderN: 0,
    offsetN: 0,
    jumpN: 0,
    texture: null,
  }
}

/** Display steps of ordinary indicators. */
const DISPLAYS = [
  { unit: 'kgf', quantum: 0.01 },
  { unit: 'kgf', quantum: 0.005 },
  { unit: 'kgf', quantum: 0.001 },
  { unit: 'N', quantum: 0.1 },
  { unit: 'N', quantum: 0.02 },
  { unit: 'lbf', quantum: 0.02 },
  { unit: 'gf', quantum: 1 },
  { unit: 'gf', quantum: 5 },
] as const

export function converterAt(
  random: Random,
  rateHz: number,
  change: Partial<ConverterSpec> = {},
): ConverterSpec {
  return {
    rateHz: rateHz * random.between(0.97, 1.03),
    passes: [1],
    noiseN: random.between(0.01, 0.08),
    ...random.pick(DISPLAYS),
    limitN: null,
    jitter: random.pick([0.005, 0.02, 0.04]),
    stampDecimals: rateHz > 200 ? 5 : random.pick([3, 4]),
    ...change,
  }
}

export const noFaults: FaultSpec = { spikes: 0, gaps: 0, absurd: 0, topGap: null, keepClearS: 0.4 }

/** Rest, pull to the end of the first part, rest, all in one log. */
export function onePull(random: Random, part = 0): Act[] {
  return [
    { do: 'wait', forS: random.between(0.5, 1) },
    { do: 'zero' },
    { do: 'start-log' },
    { do: 'wait', forS: random.between(2.8, 6) },
    { do: 'pull', until: { what: 'part-gone', part }, overrunS: random.between(0.2, 0.8) },
    { do: 'wait', forS: random.between(1.5, 4) },
    { do: 'end-log' },
  ]
}

/** As `onePull`, but zeroed and started with the slack already taken up to `preloadN`. */
export function zeroedUnderLoad(random: Random, preloadN: number, restAfterS: number): Act[] {
  return [
    { do: 'wait', forS: 0.3 },
    { do: 'pull', until: { what: 'force', forceN: preloadN }, overrunS: 0 },
    { do: 'wait', forS: random.between(1, 12) },
    { do: 'zero' },
    { do: 'wait', forS: random.between(0.1, 0.5) },
    { do: 'start-log' },
    { do: 'wait', forS: random.between(0.4, 1.8) },
    {
      do: 'pull',
      until: { what: 'part-gone', part: 0 },
      overrunS: restAfterS > 0.5 ? random.between(0.2, 0.6) : 0,
    },
    { do: 'wait', forS: restAfterS },
    { do: 'end-log' },
  ]
}

export const pullOf = (
  bench: Omit<BenchSpec, 'acts'>,
  acts: readonly Act[],
  converter: ConverterSpec,
  faults: FaultSpec = noFaults,
): PullSpec => ({ bench: { ...bench, acts }, converter, faults, logsTravel: false, endTells: false })
