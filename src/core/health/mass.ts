import { quantileSorted } from '../signal/order.ts'
import { steadyMean, zeroCourse } from './zeroCourse.ts'

/** A record in which a mass is hung and left, taken apart. Indices: first, and one past the last. */
export interface Hung {
  readonly before: Part | null
  readonly loaded: Part
  readonly after: Part | null
  /** Loaded less empty; `null` where the record does not show the empty cell. */
  readonly changeN: number | null
}

interface Part {
  readonly from: number
  readonly to: number
}

/** Left out at either end of a part: the hand is still on it. */
const HAND_S = 1.5
/** The two levels must lie so many noise sd apart. */
const APART = 20

/**
 * The longest stretch on the side of the middle between the least and the greatest level that the record
 * does not begin on, and what lies before and after it. Where there is one level only the mass hung all the
 * time.
 */
export function hungMass(
  timeS: Float64Array,
  forceN: Float64Array,
  { noiseN, stepN }: { noiseN: number; stepN: number },
): Hung | null {
  const n = forceN.length
  if (n < 20) return null
  const sorted = forceN.slice().sort()
  const low = quantileSorted(sorted, 0.05)!
  const high = quantileSorted(sorted, 0.95)!
  if (high - low < Math.max(APART * noiseN, APART * stepN)) {
    return { before: null, loaded: { from: 0, to: n }, after: null, changeN: null }
  }
  const middle = (low + high) / 2
  const start = forceN.slice(0, Math.max(5, Math.floor(n / 50))).sort()
  const startsHigh = quantileSorted(start, 0.5)! > middle
  const isLoaded = (v: number): boolean => v > middle !== startsHigh
  let best: Part | null = null
  let from = -1
  for (let i = 0; i <= n; i++) {
    if (i < n && isLoaded(forceN[i]!)) {
      if (from < 0) from = i
      continue
    }
    if (from >= 0 && (best === null || i - from > best.to - best.from)) best = { from, to: i }
    from = -1
  }
  if (best === null) return null
  const loaded = withoutEnds(timeS, best, best.to < n)
  const before = withoutEnds(timeS, { from: 0, to: best.from }, true, false)
  const after = withoutEnds(timeS, { from: best.to, to: n }, false)
  if (loaded === null || before === null) return null
  return {
    before,
    loaded,
    after,
    changeN: levelOf(forceN, loaded) - levelOf(forceN, before),
  }
}

/** The hand's share of a change: the rest may be drift. */
const SUDDEN_SHARE = 0.7
const BESIDE_SHARE = 0.1

/** Whether the change from the empty cell to the load came all at once, as a drift does not. */
export function isSudden(forceN: Float64Array, { before, loaded, changeN }: Hung): boolean {
  if (before === null || changeN === null) return false
  const part = ({ from, to }: Part): number => Math.max(5, Math.floor(BESIDE_SHARE * (to - from)))
  const lastN = levelOf(forceN, { from: Math.max(before.from, before.to - part(before)), to: before.to })
  const firstN = levelOf(forceN, { from: loaded.from, to: Math.min(loaded.to, loaded.from + part(loaded)) })
  return Math.abs(firstN - lastN) > SUDDEN_SHARE * Math.abs(changeN)
}

function withoutEnds(timeS: Float64Array, { from, to }: Part, atEnd: boolean, atStart = true): Part | null {
  let a = from
  let b = to
  if (atStart) while (a < b && timeS[a]! < timeS[from]! + HAND_S) a++
  if (atEnd) while (b > a && timeS[b - 1]! > timeS[to - 1]! - HAND_S) b--
  return b - a >= 5 ? { from: a, to: b } : null
}

const levelOf = (forceN: Float64Array, { from, to }: Part): number =>
  quantileSorted(forceN.slice(from, to).sort(), 0.5)!

/**
 * How a reading goes on changing under a mass, as a share of the mass, and what of it stays when it is off.
 */
export interface Crept {
  /** Change from the fifth second of the load to the end of it, in per cent of the load. */
  readonly pct: number
  readonly changeN: number
  readonly heldS: number
  /** Zero after less zero before, in per cent of the load; `null` where it was not recorded. */
  readonly returnPct: number | null
}

const FROM_S = 5
/** A creep dies away: less is asked to see that than of a zero that may do anything. */
const LIKELY_F = 12
const LEAST_HELD_S = 20
/** Mean over this share of the hold at either end. */
const END_SHARE = 0.08

/**
 * Creep under the mass, less what the zero did meanwhile by its own drift (N a second). `null` where it
 * hung too shortly.
 */
export function creepUnder(
  timeS: Float64Array,
  forceN: Float64Array,
  { before, loaded, after, changeN }: Hung,
  driftNPerS: number,
): (Crept & { standardPct: number }) | null {
  if (changeN === null || before === null) return null
  const startS = timeS[loaded.from]! - HAND_S + FROM_S
  let from = loaded.from
  while (from < loaded.to && timeS[from]! < startS) from++
  const heldS = timeS[loaded.to - 1]! - startS
  if (!(heldS > LEAST_HELD_S)) return null
  const course = zeroCourse(timeS.slice(from, loaded.to), forceN.slice(from, loaded.to), LIKELY_F)
  if (course === null) return null
  const perS = course.perMinuteN / 60
  const changed =
    (course.tauS === null ? perS * heldS : perS * course.tauS * (1 - Math.exp(-heldS / course.tauS))) -
    driftNPerS * heldS
  const ends = Math.max(5, Math.floor(END_SHARE * (loaded.to - from)))
  // An even course over the whole hides most of what dies away at its start: the two ends tell it as well.
  const betweenS = mean(timeS, loaded.to - ends, loaded.to) - mean(timeS, from, from + ends)
  const byEnds =
    mean(forceN, loaded.to - ends, loaded.to) - mean(forceN, from, from + ends) - driftNPerS * betweenS
  const change = course.tauS === null ? (Math.abs(byEnds) > Math.abs(changed) ? byEnds : changed) : changed
  return {
    pct: (100 * change) / changeN,
    standardPct: Math.abs((100 * course.standardPerMinuteN * heldS) / 60 / changeN),
    changeN: change,
    heldS,
    returnPct:
      after === null
        ? null
        : (100 * (mean(forceN, after.from, after.to) - mean(forceN, before.from, before.to))) / changeN,
  }
}

/**
 * Mean without what lies far off: a single wild reading that nobody found moves a plain one by more than a
 * creep.
 */
function mean(values: Float64Array, from: number, to: number): number {
  return steadyMean(values.subarray(from, to))
}
