import { characterSpec } from './characters.ts'
import type { Recipe } from './kinds/common.ts'
import * as converter from './kinds/converter.ts'
import * as specimen from './kinds/specimen.ts'
import * as work from './kinds/work.ts'
import { converterAt, noFaults } from './parts.ts'

const single = {
  'saw-tooth': specimen.sawToothPull,
  'zeroed-under-load': work.zeroedUnderLoadPull,
  'inner-part': work.withInnerPart,
  strokes: work.inStrokes,
  'two-logs': work.inTwoLogs,
  brittle: specimen.brittlePull,
  'pull-out': specimen.pulledOut,
  'pull-out-snap': specimen.pulledOutThenSnapped,
  slips: specimen.slipping,
  faults: converter.faulty,
  clipped: converter.clipped,
  'no-rest': work.withoutRest,
  'cut-short': work.cutShort,
  drifting: converter.drifting,
  fast: converter.fast,
  'slow-coarse': converter.slowCoarse,
  averaged: converter.averaged,
  holds: work.withHolds,
  hands: work.withHandsOnGrips,
  'hot-melt': random => characterSpec(random, 'hot-melt', null),
  'wheat-paste': random => characterSpec(random, 'wheat-paste', null),
  stitching: random => characterSpec(random, 'stitching', null),
} as const satisfies Record<string, Recipe>

/** Several troubles in one record, as no single kind has them. */
const mixed: Recipe = random => {
  const base =
    single[
      random.pick(['saw-tooth', 'zeroed-under-load', 'inner-part', 'strokes', 'slips', 'holds'] as const)
    ](random)
  const rateHz = random.pick([10, 20, 40, 80, 320])
  return {
    ...base,
    bench: {
      ...base.bench,
      driftNPerS: random.chance(0.4) ? random.between(-0.03, 0.03) : 0,
      wanderN: random.chance(0.4) ? random.between(0, 0.05) : 0,
    },
    converter: {
      ...converterAt(random, rateHz, { noiseN: random.between(0.01, 0.2) }),
      passes: random.pick([[1], [1], [1], [1, 1], [2], [1, 1, 1]]),
    },
    faults: { ...noFaults, spikes: random.pick([0, 0, 1, 2]), gaps: random.pick([0, 0, 0, 1]) },
  }
}

const recipes = { ...single, mixed } as const satisfies Record<string, Recipe>

export type PretendKind = keyof typeof recipes

/** Every kind of pretend pull. */
export const pretendKinds = Object.keys(recipes) as readonly PretendKind[]

/** How a kind draws its rig, specimen and faults. */
export const recipeOf = (kind: PretendKind): Recipe => recipes[kind]
