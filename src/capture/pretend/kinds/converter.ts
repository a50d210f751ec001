import { benchFor, converterAt, noFaults, onePull, pullOf, zeroedUnderLoad } from '../parts.ts'
import { type Recipe, sawTooth, usualRate } from './common.ts'

/** Kinds of pull that differ in how the force is read: the converter, its display, its drift and its line. */

export const faulty: Recipe = random => {
  const { part, aboutN } = sawTooth(random)
  const acts = random.chance(0.5)
    ? onePull(random)
    : zeroedUnderLoad(random, aboutN * random.between(0.04, 0.2), random.between(1.5, 4))
  return pullOf(benchFor(random, [part]), acts, converterAt(random, usualRate(random)), {
    ...noFaults,
    spikes: random.whole(0, 2),
    gaps: random.whole(0, 2),
  })
}

export const clipped: Recipe = random => {
  const { part, aboutN } = sawTooth(random)
  return pullOf(
    benchFor(random, [part]),
    onePull(random),
    converterAt(random, random.pick([20, 40, 80]), { limitN: aboutN * random.between(0.5, 0.75) }),
  )
}

export const drifting: Recipe = random => {
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
}

export const fast: Recipe = random => {
  const { part } = sawTooth(random)
  return pullOf(
    benchFor(random, [part], { secondsToPeak: random.between(0.8, 4) }),
    onePull(random),
    converterAt(random, random.pick([320, 1000]), { noiseN: random.between(0.03, 0.2) }),
  )
}

export const slowCoarse: Recipe = random => {
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
}

export const averaged: Recipe = random => {
  const { part } = sawTooth(random)
  const passes = random.pick([[1, 1], [2], [1, 1, 1], [3], [1, 1, 1, 1], [4], [1, 2]])
  return pullOf(
    benchFor(random, [part], { secondsToPeak: random.between(4, 12) }),
    onePull(random),
    converterAt(random, random.pick([10, 20, 40, 80]), { passes }),
  )
}
