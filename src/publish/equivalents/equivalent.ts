import type { PeakForce } from '../../core/reading/document.ts'
import type { Gravity } from '../../core/units/gravity.ts'
import type { Equivalent } from '../study/study.ts'

/** A force with the ends of its 95 % interval, in newton; without them nothing fair can be said of it. */
export interface DoubtedForce {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
}

/** What may be said of a force in a familiar weight. Counts are whole numbers. */
export type Saying =
  /** `count` of them weigh what the force is, within its doubt. */
  | { readonly kind: 'about'; readonly of: Equivalent; readonly count: number }
  /** No whole number lies within the doubt, or the doubt holds several far apart: the force lies between the two. */
  | { readonly kind: 'between'; readonly of: Equivalent; readonly from: number; readonly to: number }
  /** The force is less than the weight of one. */
  | { readonly kind: 'less-than-one'; readonly of: Equivalent }
  /** It is known only that the force was at least the weight of so many; `held`: it carried them and did not break. */
  | { readonly kind: 'at-least'; readonly of: Equivalent; readonly count: number; readonly held: boolean }
  | { readonly kind: 'none'; readonly why: string }

const none = (why: string): Saying => ({ kind: 'none', why })

/** Counts that can be pictured at a glance, and the most that can be pictured at all. */
const GRASPED = { from: 2, to: 12 }
const MOST = 1_000
/** Counts are rounded to the coarsest of these that stays within the doubt. */
const STEPS = [500, 100, 50, 10, 5, 1]
/** From here on a round number is easier to picture than an exact one. */
const ROUND_FROM = 20

/** What to say of a peak in the user's own familiar weights, by its status. */
export function sayPeak(peak: PeakForce, equivalents: readonly Equivalent[], gravity: Gravity): Saying {
  const { status, valueN, uncertaintyN } = peak
  if (status === 'not-recorded' || valueN === null)
    return none('The peak was not recorded: there is no force to put into other words.')
  const lowN = peak.lowN ?? (uncertaintyN === null ? null : valueN - uncertaintyN)
  const highN = peak.highN ?? (uncertaintyN === null ? null : valueN + uncertaintyN)
  if (status === 'at-least' || status === 'not-reached')
    return sayAtLeast(lowN ?? valueN, equivalents, gravity, status === 'not-reached')
  if (lowN === null || highN === null)
    return none('The doubt of the force is not known, so that no count can be called fair.')
  return sayForce({ valueN, lowN, highN }, equivalents, gravity)
}

/**
 * What to say of a force: “about” only where so many of the thing weigh what lies within the doubt of the force and of
 * the gravity; else the two whole numbers that it lies between. Among several things the one whose count is pictured
 * best is taken, then the one that meets the force best.
 */
export function sayForce(force: DoubtedForce, equivalents: readonly Equivalent[], gravity: Gravity): Saying {
  if (!(force.lowN > 0) || !(force.highN >= force.valueN) || !(force.valueN >= force.lowN))
    return none('The force cannot be told from nothing, given its doubt.')
  const usable = equivalents.filter(isWeight)
  if (usable.length === 0) return none('No familiar weights are given.')
  const said = usable.flatMap(of => {
    const counts = countsOf(force, of, gravity)
    const saying = sayIn(counts, of)
    return saying === null ? [] : [{ saying, cost: costOf(saying, counts.value) }]
  })
  const best = said.reduce<(typeof said)[number] | null>(
    (a, b) => (a === null || b.cost < a.cost ? b : a),
    null,
  )
  return best?.saying ?? none('The force is too far from all the familiar weights to be pictured in them.')
}

/** The greatest count that the force certainly reached, in the weight that gives the best picture of it. */
function sayAtLeast(
  lowN: number,
  equivalents: readonly Equivalent[],
  gravity: Gravity,
  held: boolean,
): Saying {
  const usable = equivalents.filter(isWeight)
  if (usable.length === 0) return none('No familiar weights are given.')
  const said = usable.flatMap((of): { saying: Saying; cost: number }[] => {
    const least = lowN / (of.massKg * (gravity.ms2 + gravity.halfWidthMs2))
    const count = Math.floor(least + ROUNDING)
    if (!(count >= 1) || count > MOST) return []
    return [
      { saying: { kind: 'at-least', of, count, held }, cost: pictureCost(count) + (least - count) / least },
    ]
  })
  const best = said.reduce<(typeof said)[number] | null>(
    (a, b) => (a === null || b.cost < a.cost ? b : a),
    null,
  )
  return (
    best?.saying ??
    none('The force that was certainly reached is less than the lightest weight, or too many of each.')
  )
}

interface Counts {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** A count that is whole but for the rounding of floats is whole. */
const ROUNDING = 1e-9

const isWeight = ({ massKg }: Equivalent): boolean => Number.isFinite(massKg) && massKg > 0

function countsOf(
  { valueN, lowN, highN }: DoubtedForce,
  { massKg }: Equivalent,
  { ms2, halfWidthMs2 }: Gravity,
): Counts {
  return {
    value: valueN / (massKg * ms2),
    low: lowN / (massKg * (ms2 + halfWidthMs2)) - ROUNDING,
    high: highN / (massKg * (ms2 - halfWidthMs2)) + ROUNDING,
  }
}

function sayIn({ value, low, high }: Counts, of: Equivalent): Saying | null {
  if (!(value < MOST)) return null
  if (high < 1) return { kind: 'less-than-one', of }
  for (const step of value < ROUND_FROM ? [1] : STEPS) {
    const count = step * Math.round(value / step)
    if (count >= 1 && count >= low && count <= high) return { kind: 'about', of, count }
  }
  const from = Math.floor(low)
  return from >= 1 ? { kind: 'between', of, from, to: Math.ceil(high) } : null
}

/** Less is better: a count at a glance, then “about” before “between”, then the nearness to the force. */
function costOf(saying: Saying, value: number): number {
  switch (saying.kind) {
    case 'about':
      return pictureCost(saying.count) + Math.abs(saying.count - value) / value
    case 'between':
      return pictureCost(saying.to) + 2 + (saying.to - saying.from) / value
    case 'less-than-one':
      return 100 - value
    default:
      return Number.POSITIVE_INFINITY
  }
}

const pictureCost = (count: number): number =>
  count < GRASPED.from ? 1.5 : count <= GRASPED.to ? 0 : 1 + 2 * Math.log10(count / GRASPED.to)
