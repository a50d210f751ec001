import type { Act } from '../bench.ts'
import { pullOut, relaxes } from '../parts.ts'
import { aPeakN, brittleBar, type CurveRecipe, ductileBar, pulledThrough, recordOf } from './bars.ts'
import { paceAt } from './start.ts'

/** Kinds of record that are easily misread for their levels: one that is no zero, a zero that is not nought, none at all. */

export const yieldPlateau: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  return recordOf(random, setting, {
    part: { ...ductileBar(random, aboutN), plateauMm: random.between(1.5, 8) },
    aboutN,
    secondsToPeak: random.between(10, 30),
    acts: pulledThrough(random, pace),
  })
}

/** Stands still in the middle for longer than it ever rests, and relaxes. */
export const relaxingHold: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const relaxation = [
    { share: random.between(0.01, 0.1), tauS: pace * random.between(0.5, 3) },
    { share: random.between(0.01, 0.1), tauS: pace * random.between(5, 40) },
  ]
  const holds = Array.from({ length: random.whole(1, 2) }, (_, i) => (i + random.between(0.3, 0.9)) / 2)
  return recordOf(random, setting, {
    part: { ...brittleBar(random, aboutN), relaxation },
    aboutN,
    by: 'motor',
    acts: before => [
      ...before,
      ...holds.flatMap((share): Act[] => [
        { do: 'pull', until: { what: 'force', forceN: aboutN * 0.85 * share }, overrunS: 0 },
        { do: 'wait', forS: pace * random.between(6, 30) },
      ]),
      ...pulledThrough(random, pace)([]),
    ],
  })
}

/** Held at the end, and never let down in the log. */
export const heldToTheEnd: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const zeroing = setting.zeroing === 'under-load' ? 'tared' : setting.zeroing
  return recordOf(
    random,
    { ...setting, zeroing },
    {
      part: { ...brittleBar(random, 3 * aboutN), relaxation: relaxes(random, 0.15) },
      aboutN,
      acts: before => [
        ...before,
        { do: 'pull', until: { what: 'force', forceN: aboutN }, overrunS: 0 },
        { do: 'wait', forS: pace * random.between(4, 40) },
        { do: 'end-log' },
      ],
    },
  )
}

/** The cell was never tared: everything stands on an offset. */
export const untaredCell: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = random.pick([brittleBar, ductileBar, pullOut])(random, aboutN)
  return recordOf(
    random,
    { ...setting, zeroing: 'untared' },
    { part, aboutN, acts: pulledThrough(random, pace) },
  )
}

/** Zeroed free, begun under load, and stopped in the fall: the cell is never seen empty, and its zero is right. */
export const begunLoaded: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const bar = random.pick([brittleBar, ductileBar])(random, aboutN)
  const part = { ...bar, tearS: Math.max(0.03, random.between(4, 12) / setting.rateHz) }
  const waits = random.chance(0.5)
  return recordOf(
    random,
    { ...setting, zeroing: 'tared' },
    {
      part,
      aboutN,
      endTells: true,
      acts: () => [
        { do: 'wait', forS: 0.5 },
        { do: 'zero' },
        { do: 'pull', until: { what: 'force', forceN: aboutN * 0.005 * 40 ** random.next() }, overrunS: 0 },
        ...(waits ? [{ do: 'wait', forS: random.between(1, 8) } as const] : []),
        { do: 'start-log' },
        ...(waits ? [{ do: 'wait', forS: random.between(0.5, 6) } as const] : []),
        {
          do: 'pull',
          until: { what: 'fallen', share: part.neckShare * random.between(0.2, 0.7) },
          overrunS: 0,
        },
        { do: 'wait', forS: 0.6 / setting.rateHz },
        { do: 'end-log' },
      ],
    },
  )
}

/** The blow of the break moves the zero. */
export const movedZero: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const zeroing = setting.zeroing === 'under-load' ? 'tared' : setting.zeroing
  return recordOf(
    random,
    { ...setting, zeroing },
    {
      part: random.pick([brittleBar, ductileBar])(random, aboutN),
      aboutN,
      bench: { jumpN: aboutN * random.between(0.004, 0.03) * (random.chance(0.5) ? 1 : -1) },
      acts: pulledThrough(random, pace),
    },
  )
}

/** Loaded to about the same force again and again and let down each time; nothing breaks. */
export const loadings: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = { ...brittleBar(random, 4 * aboutN), relaxation: relaxes(random, 0.05) }
  const times = random.whole(2, 5)
  const mm = aboutN / part.stiffnessNPerMm
  return recordOf(random, setting, {
    part,
    aboutN,
    secondsToPeak: random.between(8, 25),
    acts: before => [
      ...before,
      ...Array.from({ length: times }, (): Act[] => [
        { do: 'pull', until: { what: 'force', forceN: aboutN * random.between(0.93, 1) }, overrunS: 0 },
        { do: 'wait', forS: random.pick([0.05, pace * random.between(0.3, 3)]) },
        { do: 'back-off', speedMmPerS: (mm + 0.6) / (pace * random.between(1.5, 5)) },
        { do: 'wait', forS: Math.max(0.7, pace * random.between(0.8, 3)) },
      ]).flat(),
      { do: 'end-log' },
    ],
  })
}

/** A cell that is left alone, but for hands, swings and drift. */
export const noPull: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const zeroing = setting.zeroing === 'under-load' ? 'tared' : setting.zeroing
  const spec = recordOf(
    random,
    { ...setting, zeroing },
    {
      part: brittleBar(random, aboutN),
      aboutN,
      bench: random.chance(0.4) ? { wanderN: aboutN * 0.0005 } : {},
      acts: before => [
        ...before,
        { do: 'wait', forS: paceAt(setting.rateHz) * random.between(8, 40) },
        { do: 'end-log' },
      ],
    },
  )
  const { converter } = spec
  return { ...spec, converter: { ...converter, noiseN: converter.noiseN * random.pick([1, 10, 100]) } }
}
