import type { Act } from '../bench.ts'
import { bundle, pullOut } from '../parts.ts'
import type { Random } from '../random.ts'
import {
  aPeakN,
  brittleBar,
  type CurveRecipe,
  ductileBar,
  pulledThrough,
  recordOf,
  toTheEnd,
} from './bars.ts'
import { paceAt } from './start.ts'

/** Kinds of record that end early, slowly or unseen, go on with another specimen, or hold a reading that cannot be. */

/** The log is stopped while the force falls. */
export const stoppedInTheFall: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const bar = random.pick([brittleBar, ductileBar])(random, aboutN)
  const tearS = Math.max(0.03, random.between(5, 16) / setting.rateHz)
  const part = { ...bar, tearS, tearBend: random.between(0.8, 2) }
  return recordOf(random, setting, {
    part,
    aboutN,
    endTells: true,
    acts: before => [
      ...before,
      {
        do: 'pull',
        until: { what: 'fallen', share: part.neckShare * random.between(0.1, 0.7) },
        overrunS: 0,
      },
      { do: 'wait', forS: 0.6 / setting.rateHz },
      { do: 'end-log' },
    ],
  })
}

/** A few readings after the break, and no more. */
export const fewAfterBreak: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const bar = random.pick([brittleBar, ductileBar])(random, aboutN)
  const after = random.whole(2, 7)
  return recordOf(random, setting, {
    part: { ...bar, tearS: random.pick([0, 0, random.between(0.5, 2) / setting.rateHz]) },
    aboutN,
    endTells: true,
    acts: before => [
      ...before,
      toTheEnd(0),
      { do: 'wait', forS: (after + 1.5) / setting.rateHz },
      { do: 'end-log' },
    ],
  })
}

/** Nothing was recorded about the top: of a break that was not seen, or of a round top. */
export const gapAtTop: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = random.pick([brittleBar, ductileBar, pullOut])(random, aboutN)
  const least = 4 / setting.rateHz
  return recordOf(random, setting, {
    part,
    aboutN,
    faults: {
      topGap: {
        beforeS: least + pace * random.between(0.1, 1.2),
        afterS: least + pace * random.between(0.1, 1.2),
      },
    },
    acts: pulledThrough(random, 2 * pace),
  })
}

/** Tears over seconds while the travel goes on. */
export const slowTear: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = {
    ...ductileBar(random, aboutN),
    tearS: pace * random.between(0.3, 3),
    tearBend: random.between(0.7, 2),
  }
  return recordOf(random, setting, { part, aboutN, acts: pulledThrough(random, pace) })
}

/** Several specimens one after another in one log. */
export const inARow: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = random.pick([brittleBar, ductileBar])(random, aboutN)
  const more = random.whole(1, 4)
  const breaking: Act[] = [
    toTheEnd(random.between(0.1, 0.5)),
    { do: 'wait', forS: Math.max(0.9, pace * random.between(0.8, 4)) },
  ]
  return recordOf(random, setting, {
    part,
    aboutN,
    secondsToPeak: random.between(3, 8),
    acts: before => [
      ...before,
      ...breaking,
      ...Array.from({ length: more }, (): Act[] => [
        { do: 'next-specimen', forS: random.between(0.5, 2), slackMm: random.between(0.05, 0.5) },
        ...breaking,
      ]).flat(),
      { do: 'end-log' },
    ],
  })
}

/** One reading far beyond anything that can be. */
export const absurdReading: CurveRecipe = (random, setting) => {
  const aboutN = aPeakN(random)
  const pace = paceAt(setting.rateHz)
  const part = random.pick([brittleBar, ductileBar, pullOut, bundledBar])(random, aboutN)
  return recordOf(random, setting, {
    part,
    aboutN,
    faults: { absurd: random.whole(1, 2) },
    acts: pulledThrough(random, 2 * pace),
  })
}

const bundledBar = (random: Random, aboutN: number) => bundle(random, random.whole(4, 10), aboutN)
