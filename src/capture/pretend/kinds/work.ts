import type { Act } from '../bench.ts'
import { benchFor, converterAt, innerPart, onePull, pullOf, zeroedUnderLoad } from '../parts.ts'
import type { Random } from '../random.ts'
import { type Recipe, sawTooth, usualRate } from './common.ts'

/** Kinds of pull that differ in what the operator does. */

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

export const zeroedUnderLoadPull: Recipe = random => {
  const { part, aboutN } = sawTooth(random)
  const acts = zeroedUnderLoad(random, aboutN * random.between(0.04, 0.3), random.between(1.5, 4))
  return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
}

export const withInnerPart: Recipe = random => {
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
}

export const inStrokes: Recipe = random => {
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
}

export const inTwoLogs: Recipe = random => {
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
}

export const withoutRest: Recipe = random => {
  const { part, aboutN } = sawTooth(random)
  const acts = zeroedUnderLoad(random, aboutN * random.between(0.08, 0.3), random.between(0, 0.04))
  return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)))
}

/** Recorded to the moment of the break and no farther, or not even so far; the zero is seen before. */
export const cutShort: Recipe = random => {
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
}

export const withHolds: Recipe = random => {
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
}

export const withHandsOnGrips: Recipe = random => {
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
}
