import type { Random } from '../random.ts'
import type { TextureSpec } from '../texture.ts'
import { aPeakN, type CurveRecipe, ductileBar, pulledThrough, recordOf } from './bars.ts'
import { paceAt } from './start.ts'

/** Kinds of record whose force swings without breaking. */

const textured =
  (
    texture: (random: Random, travelMm: number, perToothMm: number, rateHz: number) => TextureSpec,
  ): CurveRecipe =>
  (random, setting) => {
    const aboutN = aPeakN(random)
    const pace = paceAt(setting.rateHz)
    const secondsToPeak = random.between(10, 25)
    const part = ductileBar(random, aboutN)
    const travelMm = part.yieldN / part.stiffnessNPerMm + part.plateauMm + part.hardenMm
    // Travel between eight readings: a tooth is seen, not guessed.
    const seenMm = (8 * travelMm) / (pace * secondsToPeak * setting.rateHz)
    return recordOf(random, setting, {
      part,
      aboutN,
      secondsToPeak,
      softness: random.between(0.02, 0.1),
      by: 'motor',
      bench: { texture: texture(random, travelMm, seenMm, setting.rateHz) },
      acts: pulledThrough(random, pace),
    })
  }

export const teeth = textured((random, travelMm, seenMm) => ({
  what: 'teeth',
  everyMm: Math.max(seenMm, travelMm / random.between(15, 120)),
  share: 0.008 * 8 ** random.next(),
  sharp: random.between(0.15, 0.6),
  uneven: random.between(0.1, 0.9),
}))

export const stickSlip = textured((random, travelMm, seenMm) => ({
  what: 'teeth',
  everyMm: Math.max(seenMm, travelMm / random.between(12, 60)),
  share: random.between(0.06, 0.35),
  sharp: random.between(0.03, 0.15),
  uneven: random.between(0.2, 0.8),
}))

export const vibrating = textured((random, _travelMm, _seenMm, rateHz) => ({
  what: 'vibration',
  hz: rateHz * random.between(0.02, 0.16),
  share: 0.005 * 8 ** random.next(),
  uneven: random.between(0.2, 1),
}))
