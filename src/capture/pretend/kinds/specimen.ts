import { benchFor, bundle, converterAt, onePull, pullOf, pullOut } from '../parts.ts'
import { type Recipe, sawTooth, usualRate } from './common.ts'

/** Kinds of pull that differ in the specimen, and in how it gives way. */

export const sawToothPull: Recipe = random => {
  const { part } = sawTooth(random)
  return pullOf(benchFor(random, [part]), onePull(random), converterAt(random, usualRate(random)))
}

export const brittlePull: Recipe = random => {
  const part = bundle(random, 1, random.between(40, 600), 0.1)
  const rateHz = random.pick([5, 10, 20, 40, 80, 320])
  return pullOf(
    benchFor(random, [part], { secondsToPeak: random.between(3, 12) }),
    onePull(random),
    converterAt(random, rateHz, { noiseN: random.between(0.02, 0.25) }),
  )
}

export const pulledOut: Recipe = random => {
  const part = pullOut(random, random.between(40, 500))
  return pullOf(
    benchFor(random, [part], { softness: random.between(0.05, 0.3), secondsToPeak: random.between(5, 10) }),
    onePull(random),
    converterAt(random, usualRate(random), { noiseN: random.between(0.02, 0.2) }),
  )
}

export const pulledOutThenSnapped: Recipe = random => {
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
}

export const slipping: Recipe = random => {
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
}
