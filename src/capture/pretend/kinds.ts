import { characterSpec } from './characters.ts'
import type { CurveRecipe } from './kinds/bars.ts'
import type { Recipe } from './kinds/common.ts'
import * as converter from './kinds/converter.ts'
import * as endings from './kinds/endings.ts'
import * as levels from './kinds/levels.ts'
import * as specimen from './kinds/specimen.ts'
import { RATES_HZ, type Setting, ZEROINGS } from './kinds/start.ts'
import * as textures from './kinds/textures.ts'
import * as work from './kinds/work.ts'
import { converterAt, noFaults } from './parts.ts'
import type { Random } from './random.ts'
import type { PullSpec } from './spec.ts'

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

const curveRecipes = {
  'yield-plateau': levels.yieldPlateau,
  'relaxing-hold': levels.relaxingHold,
  'held-to-the-end': levels.heldToTheEnd,
  untared: levels.untaredCell,
  teeth: textures.teeth,
  'stick-slip': textures.stickSlip,
  vibrating: textures.vibrating,
  'stopped-in-the-fall': endings.stoppedInTheFall,
  'few-after-break': endings.fewAfterBreak,
  'gap-at-top': endings.gapAtTop,
  'in-a-row': endings.inARow,
  'no-pull': levels.noPull,
  'begun-loaded': levels.begunLoaded,
  'slow-tear': endings.slowTear,
  loadings: levels.loadings,
  'moved-zero': levels.movedZero,
  'absurd-reading': endings.absurdReading,
} as const satisfies Record<string, CurveRecipe>

type CurveKind = keyof typeof curveRecipes
export type PretendKind = keyof typeof recipes | CurveKind

/** Every kind of pull that a bench rig makes day by day. */
export const pretendKinds = Object.keys(recipes) as readonly (keyof typeof recipes)[]

/** Every kind of record that is easily misread; these come in any `Setting`. */
export const curveKinds = Object.keys(curveRecipes) as readonly CurveKind[]

/** What a kind draws: its rig, specimen and faults. A setting that is not asked for is drawn too. */
export function specOf(kind: PretendKind, random: Random, setting: Partial<Setting>): PullSpec {
  if (kind in recipes) return recipes[kind as keyof typeof recipes](random)
  const drawn = { rateHz: random.pick(RATES_HZ), zeroing: random.pick(ZEROINGS) }
  return curveRecipes[kind as CurveKind](random, { ...drawn, ...setting })
}
