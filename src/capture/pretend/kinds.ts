import type { Act } from './bench.ts'
import { characterSpec } from './characters.ts'
import {
  benchFor,
  bundle,
  converterAt,
  innerPart,
  noFaults,
  onePull,
  pullOf,
  pullOut,
  zeroedUnderLoad,
} from './parts.ts'
import type { Random } from './random.ts'
import type { PullSpec } from './spec.ts'

type Recipe = (random: Random) => PullSpec

/** A saw-tooth on an ordinary rig; the base of many kinds. */
const sawTooth = (random: Random) => {
  const elements = random.whole(5, 14)
  const aboutN = random.between(30, 120)
  return { elements, aboutN, part: bundle(random, elements, aboutN) }
}

const usualRate = (random: Random): number => random.pick([10, 20, 40, 80])

const pausing = (random: Random) => ({ everyS: random.between(2, 5), upToS: random.between(0.8, 3) })

/** Backs off for want of stroke and pulls on; `zeroAgain`: the zero key is pressed while the specimen hangs slack. */
const anotherStroke = (random: Random, zeroAgain: boolean): Act[] => [
  { do: 'wait', forS: random.between(0.2, 1.5) },
  { do: 'back-off', speedMmPerS: random.between(1, 4) },
  { do: 'wait', forS: random.between(0.8, 2.5) },
  { do: 'regrip', forS: random.between(3, 7), slackMm: random.between(0.2, 1), knocks: random.whole(1, 4) },
  { do: 'wait', forS: random.between(1, 2) },
  ...(zeroAgain ? [{ do: 'zero' } as const] : []),
  { do: 'wait', forS: random.between(1, 3) },
]

const single = {
  'saw-tooth': random => {
    const { part } = sawTooth(random)
    return pullOf(benchFor(random, [part]), onePull(random), converterAt(random, usualRate(random)))
  },

  'zeroed-under-load': random => {
    const { part, aboutN } = sawTooth(random)
    const acts = zeroedUnderLoad(random, aboutN * random.between(0.04, 0.3), random.between(1.5, 4))
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
  },

  'inner-part': random => {
    const { part, aboutN } = sawTooth(random)
    const slackMm = random.between(14, 24)
    const inner = innerPart(random, aboutN * random.between(0.25, 0.8), slackMm)
    const retare = random.pick(['none', 'at-rest', 'under-load'] as const)
    const underLoad = random.chance(0.5)
    const start = underLoad
      ? zeroedUnderLoad(random, aboutN * random.between(0.05, 0.2), random.between(1.5, 4))
      : onePull(random)
    const acts: Act[] = [
      ...start.slice(0, -1),
      { do: 'back-off', speedMmPerS: 3 },
      {
        do: 'regrip',
        forS: random.between(3, 8),
        slackMm: random.between(0.5, 2) - slackMm,
        knocks: random.whole(0, 4),
      },
      { do: 'wait', forS: random.between(1, 2.5) },
      ...(retare === 'at-rest'
        ? [{ do: 'zero' } as const, { do: 'wait', forS: random.between(1, 2) } as const]
        : []),
      ...(retare === 'under-load'
        ? ([
            { do: 'pull', until: { what: 'force', forceN: random.between(2, 8) }, overrunS: 0 },
            { do: 'wait', forS: random.between(1, 3) },
            { do: 'zero' },
            { do: 'wait', forS: random.between(0.8, 2) },
          ] as const)
        : []),
      { do: 'pull', until: { what: 'part-gone', part: 1 }, overrunS: random.between(0.2, 0.6) },
      { do: 'wait', forS: random.between(1.5, 4) },
      { do: 'end-log' },
    ]
    return pullOf(benchFor(random, [part, inner]), acts, converterAt(random, usualRate(random)))
  },

  strokes: random => {
    const { part, aboutN } = sawTooth(random)
    const first = onePull(random)
    const strokes = random.whole(1, 3)
    const again: Act[] = []
    for (let i = 1; i <= strokes; i++)
      again.push(
        {
          do: 'pull',
          until: { what: 'force', forceN: (aboutN * random.between(0.45, 0.6) * i) / strokes },
          overrunS: 0,
        },
        ...anotherStroke(random, random.chance(0.3)),
      )
    const acts = [...first.slice(0, 4), ...again, ...first.slice(4)]
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
  },

  'two-logs': random => {
    const { part, aboutN } = sawTooth(random)
    const first = onePull(random)
    const acts: Act[] = [
      ...first.slice(0, 4),
      { do: 'pull', until: { what: 'force', forceN: aboutN * random.between(0.35, 0.6) }, overrunS: 0 },
      { do: 'wait', forS: random.between(0.2, 1.5) },
      { do: 'back-off', speedMmPerS: 2 },
      { do: 'wait', forS: random.between(1, 2.5) },
      { do: 'end-log' },
      { do: 'regrip', forS: 5, slackMm: random.between(0.2, 1), knocks: 2 },
      { do: 'zero' },
      { do: 'start-log' },
      ...first.slice(3),
    ]
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
  },

  brittle: random => {
    const part = bundle(random, 1, random.between(40, 600), 0.1)
    const rateHz = random.pick([5, 10, 20, 40, 80, 320])
    return pullOf(
      benchFor(random, [part], { secondsToPeak: random.between(3, 12) }),
      onePull(random),
      converterAt(random, rateHz, { noiseN: random.between(0.02, 0.25) }),
    )
  },

  'pull-out': random => {
    const part = pullOut(random, random.between(40, 500))
    return pullOf(
      benchFor(random, [part], { softness: random.between(0.05, 0.3), secondsToPeak: random.between(5, 10) }),
      onePull(random),
      converterAt(random, usualRate(random), { noiseN: random.between(0.02, 0.2) }),
    )
  },

  'pull-out-snap': random => {
    const part = pullOut(random, random.between(40, 300))
    const snapMm = part.peakMm * random.between(1.3, 2.2)
    return pullOf(
      benchFor(random, [{ ...part, snapMm }], {
        softness: random.between(0.05, 0.3),
        secondsToPeak: random.between(5, 10),
      }),
      onePull(random),
      converterAt(random, usualRate(random)),
    )
  },

  slips: random => {
    const { part, aboutN } = sawTooth(random)
    const slips = Array.from({ length: random.whole(1, 4) }, (_, i) => ({
      atN: aboutN * (0.3 + 0.17 * i) * random.between(0.92, 1.08),
      share: random.between(0.07, 0.22),
    }))
    return pullOf(
      { ...benchFor(random, [part]), slips },
      onePull(random),
      converterAt(random, random.pick([20, 40, 80])),
    )
  },

  faults: random => {
    const { part, aboutN } = sawTooth(random)
    const acts = random.chance(0.5)
      ? onePull(random)
      : zeroedUnderLoad(random, aboutN * random.between(0.04, 0.2), random.between(1.5, 4))
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)), {
      ...noFaults,
      spikes: random.whole(0, 2),
      gaps: random.whole(0, 2),
    })
  },

  clipped: random => {
    const { part, aboutN } = sawTooth(random)
    return pullOf(
      benchFor(random, [part]),
      onePull(random),
      converterAt(random, random.pick([20, 40, 80]), { limitN: aboutN * random.between(0.5, 0.75) }),
    )
  },

  'no-rest': random => {
    const { part, aboutN } = sawTooth(random)
    const acts = zeroedUnderLoad(random, aboutN * random.between(0.08, 0.3), random.between(0, 0.04))
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
  },

  /** Recorded to the moment of the break and no farther, or not even so far; the zero is seen before. */
  'cut-short': random => {
    const { part, aboutN } = sawTooth(random)
    const acts = onePull(random)
    const until = random.chance(0.5)
      ? ({ what: 'force', forceN: aboutN * random.between(0.4, 0.7) } as const)
      : ({ what: 'broken-share', share: random.between(0.3, 0.7) } as const)
    return pullOf(
      benchFor(random, [part]),
      [...acts.slice(0, 4), { do: 'pull', until, overrunS: 0 }, { do: 'end-log' }],
      converterAt(random, usualRate(random)),
    )
  },

  drifting: random => {
    const { part, aboutN } = sawTooth(random)
    const driftNPerS = (random.chance(0.5) ? 1 : -1) * random.between(0.005, 0.06)
    const acts = random.chance(0.3)
      ? zeroedUnderLoad(random, aboutN * 0.1, random.between(2, 5))
      : onePull(random)
    return pullOf(
      { ...benchFor(random, [part]), driftNPerS, wanderN: random.between(0, 0.1) },
      acts,
      converterAt(random, usualRate(random)),
    )
  },

  fast: random => {
    const { part } = sawTooth(random)
    return pullOf(
      benchFor(random, [part], { secondsToPeak: random.between(0.8, 4) }),
      onePull(random),
      converterAt(random, random.pick([320, 1000]), { noiseN: random.between(0.03, 0.2) }),
    )
  },

  'slow-coarse': random => {
    const { part } = sawTooth(random)
    const display = random.pick([
      { unit: 'kgf', quantum: 0.05 },
      { unit: 'N', quantum: 0.5 },
      { unit: 'lbf', quantum: 0.1 },
    ] as const)
    return pullOf(
      benchFor(random, [part], { secondsToPeak: random.between(6, 20) }),
      onePull(random),
      converterAt(random, random.pick([5, 10]), display),
    )
  },

  averaged: random => {
    const { part } = sawTooth(random)
    const passes = random.pick([[1, 1], [2], [1, 1, 1], [3], [1, 1, 1, 1], [4], [1, 2]])
    return pullOf(
      benchFor(random, [part], { secondsToPeak: random.between(4, 12) }),
      onePull(random),
      converterAt(random, random.pick([10, 20, 40, 80]), { passes }),
    )
  },

  holds: random => {
    const { part, aboutN } = sawTooth(random)
    const first = onePull(random)
    const acts: Act[] = [
      ...first.slice(0, 4),
      { do: 'pull', until: { what: 'force', forceN: aboutN * random.between(0.3, 0.5) }, overrunS: 0 },
      { do: 'wait', forS: random.between(1, 6) },
      ...first.slice(4),
    ]
    return pullOf(
      benchFor(random, [part], { by: 'hand', pauses: pausing(random) }),
      acts,
      converterAt(random, usualRate(random)),
    )
  },

  hands: random => {
    const { part } = sawTooth(random)
    const [settle, zero, log, before, ...rest] = onePull(random)
    const acts: Act[] = [
      settle!,
      zero!,
      log!,
      { do: 'wait', forS: random.between(4, 9), knocks: random.whole(2, 5) },
      before!,
      ...rest.slice(0, -1),
      { do: 'wait', forS: random.between(4, 9), knocks: random.whole(2, 5) },
      { do: 'wait', forS: random.between(1, 2) },
      { do: 'end-log' },
    ]
    return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
  },

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
