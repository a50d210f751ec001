import { quantileSorted } from '../signal/order.ts'
import { greatestAt, nextStep } from '../signal/scan.ts'
import { firstAfter, firstAtOrAfter } from '../signal/search.ts'
import { abruptness, recordOdds } from './abruptness.ts'
import { type Drop, type Fall, measureDrop } from './measureDrop.ts'
import { dropPriors } from './priors.ts'
import type { PullSpan } from './pulls.ts'
import { WeighedCourses } from './weighedCourses.ts'

export interface DropOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  readonly jitterS: number
  readonly greatestN: number
  readonly thresholdN: number
  readonly sensitivity: number
}

/** Samples after a pull's end in which its last drop may still end. */
const AFTER_SAMPLES = 6
/** Nobody turns back this many times faster than the fastest loading; a chain of breaks goes over so many steps at most. */
const FASTEST_BACK = 5
const MOST_CHAIN = 8
/** Shortest unload by hand. */
const HAND_S = 0.2
/** Steps that a single drop takes at most, with a converter that averages over five readings. */
const WIDEST_DROP = 6

/**
 * Drops of a record, in order, and over how many periods the converter averages. A drop is a run of samples, each lower than the one before, that falls too quickly
 * and too unevenly for an unload by hand or a pull-out that softens.
 */
export function findDrops(
  timeS: Float64Array,
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  segments: readonly { readonly from: number; readonly to: number }[],
  options: DropOptions,
): { drops: Drop[]; span: number } {
  const spans = pulls.map(pull => {
    const segment = segments.find(s => pull.from >= s.from && pull.from < s.to)!
    const to = Math.min(segment.to, pull.to + AFTER_SAMPLES)
    return {
      from: pull.from,
      to,
      begins: segment.from,
      ends: segment.to,
      falls: fallsIn(loadN, pull.from, to, options),
    }
  })
  const narrowest = narrowestDrop(
    loadN,
    spans.flatMap(s => s.falls),
    options,
  )
  const judged = spans.map(({ from, to, begins, falls }) => {
    const rise = fastestRise(loadN, from, to)
    const abrupt = falls.filter(fall => !isRamp(timeS, loadN, fall, rise, narrowest))
    const outside = outsideDescent(loadN, from, to, abrupt, options)
    return outside.map(fall => ({
      ...fall,
      ...abruptness(timeS, loadN, fall, { from: begins, to, ...options }),
    }))
  })
  // Who asks for twice the sensitivity takes half the size and half the abruptness for as good.
  const asked = (dropPriors.sharpness + dropPriors.smallness) * Math.log(options.sensitivity)
  const gradual = spans.reduce((sum, { to, falls }, k) => sum + regained(loadN, falls, judged[k]!, to), 0)
  const odds = recordOdds(judged.flat(), gradual) + asked
  const quick = judged.map(falls => falls.filter(fall => fall.logOdds + odds > 0))
  const span = averagingSpan(loadN, quick.flat(), options)
  const courses = new WeighedCourses()
  const drops = spans.flatMap(({ from, to, ends, falls }, index) => {
    const own = quick[index]!
    const isTooth = amongTeeth(loadN, own, falls)
    return own.flatMap((fall, k) => {
      const drop = measureDrop(timeS, loadN, fall, {
        pull: index,
        first: own[k - 1]?.to ?? from,
        last: own[k + 1]?.from ?? to - 1,
        span,
        leastDropN: leastDropN(options),
        ratio: fall.ratio,
        amongTeeth: isTooth(fall),
        courses,
        ...options,
      })
      return drop ? [stopsIn(loadN, drop, ends) ? { ...drop, stops: true } : drop] : []
    })
  })
  return { drops, span }
}

/**
 * Tells the abrupt falls of a pull that are one of a kind with the gradual ones: where at least as many falls of about
 * the same size are teeth of a texture, chance alone made this one sharper.
 */
function amongTeeth(
  loadN: Float64Array,
  abrupt: readonly Fall[],
  falls: readonly Fall[],
): (fall: Fall) => boolean {
  const sizeN = ({ from, to }: Fall): number => loadN[from]! - loadN[to]!
  const sorted = (of: readonly Fall[]): Float64Array => Float64Array.from(of, sizeN).sort()
  const starts = new Set(abrupt.map(({ from }) => from))
  const teethN = sorted(falls.filter(({ from }) => !starts.has(from)))
  const abruptN = sorted(abrupt)
  return fall => {
    const least = sizeN(fall) / ALIKE
    const most = sizeN(fall) * ALIKE
    const alike = (sizesN: Float64Array): number =>
      Math.max(0, firstAtOrAfter(sizesN, most) - firstAfter(sizesN, least))
    const teeth = alike(teethN)
    return teeth >= FEWEST_TEETH && teeth >= alike(abruptN)
  }
}

/** Falls within this ratio are of about the same size; fewer than so many gradual ones are no texture. */
const ALIKE = 3
const FEWEST_TEETH = 2

/** Falls that were too gradual for a drop and that the force makes good as quickly: teeth of a texture. */
function regained(loadN: Float64Array, falls: readonly Fall[], judged: readonly Fall[], end: number): number {
  const abrupt = new Set(judged.map(({ from }) => from))
  return falls.filter(({ from, to }) => {
    if (abrupt.has(from)) return false
    const soon = Math.min(end, to + 3 * (to - from) + 1)
    return loadN[greatestAt(loadN, to, soon)]! > loadN[from]! - 0.5 * (loadN[from]! - loadN[to]!)
  }).length
}

/** Samples that may follow the fall in which a record stops. */
const MAX_AFTER_STOP = 4

/** Whether the record stops in a fall: a good part of the force is lost, and what follows is brief and stays down. */
function stopsIn(loadN: Float64Array, { from, to, share, leavesNothing }: Drop, end: number): boolean {
  if (leavesNothing || share < dropPriors.stopShare || end - to > MAX_AFTER_STOP) return false
  const fallN = loadN[from]! - loadN[to]!
  for (let i = to + 1; i < end; i++) if (loadN[i]! > loadN[to]! + 0.1 * fallN) return false
  return true
}

/** Least fall between two neighbouring samples that noise and display step do not explain. */
const leastStepN = ({ noiseN, quantumN, sensitivity }: DropOptions): number =>
  Math.max(4.2 * noiseN, 1.6 * quantumN) / sensitivity

/** Least fall that counts as a drop. */
const leastDropN = ({ noiseN, quantumN, greatestN, sensitivity }: DropOptions): number =>
  Math.max(7 * noiseN, 3.2 * quantumN, 0.008 * greatestN) / sensitivity

/** Maximal runs of samples, each lower than the one before by more than noise. */
function fallsIn(loadN: Float64Array, from: number, to: number, options: DropOptions): Fall[] {
  const leastStep = leastStepN(options)
  const leastDrop = leastDropN(options)
  const found: Fall[] = []
  const next = (i: number): number => nextStep(loadN, i, to, Number.POSITIVE_INFINITY, leastStep)
  for (let i = next(from + 1); i < to; i = next(i + 1)) {
    const a = i - 1
    while (i < to && loadN[i]! - loadN[i - 1]! < -leastStep) i++
    const fall = sharpPart(loadN, a, i - 1)
    if (loadN[fall.from]! - loadN[fall.to]! >= leastDrop) found.push(fall)
  }
  return found
}

/** Steps gentler than this share of the steepest belong to a descent before or after the drop, not to it. */
const GENTLE = 0.12

/** A fall without the gradual descent that may lead into it or follow it; one gentle step may be the drop's own. */
function sharpPart(loadN: Float64Array, from: number, to: number): Fall {
  const gentle = GENTLE * steepest(loadN, from, to)
  const step = (i: number): number => loadN[i - 1]! - loadN[i]!
  let a = from
  while (a < to - 1 && step(a + 1) < gentle) a++
  let b = to
  while (b > a + 1 && step(b) < gentle) b--
  return { from: a - from >= 2 ? a : from, to: to - b >= 3 ? b + 1 : to }
}

/**
 * Steps over which the narrowest clear fall of the record goes: 1 or 2, or more where the converter averages over
 * several readings. Chains of breaks and unloads are only wider.
 */
function narrowestDrop(loadN: Float64Array, falls: readonly Fall[], options: DropOptions): number {
  let narrowest = WIDEST_DROP
  for (const { from, to } of falls) {
    if (loadN[from]! - loadN[to]! > 4 * leastDropN(options)) narrowest = Math.min(narrowest, to - from)
  }
  return narrowest
}

/**
 * Periods over which the converter averages; 0 where it takes points. An averaged drop shows a sample in transition
 * but for a chance of about one in twelve that it falls between two windows; a point only ever shows one where the
 * fall is a chain.
 */
function averagingSpan(loadN: Float64Array, falls: readonly Fall[], options: DropOptions): number {
  const narrowest = narrowestDrop(loadN, falls, options)
  if (narrowest > 2) return narrowest < WIDEST_DROP ? narrowest - 1 : 1
  const clear = falls.filter(({ from, to }) => loadN[from]! - loadN[to]! > 4 * leastDropN(options))
  const abrupt = clear.filter(({ from, to }) => to - from === 1).length
  const points = Math.log(0.2) + abrupt * Math.log(0.85) + (clear.length - abrupt) * Math.log(0.15)
  const averages = Math.log(0.8) + abrupt * Math.log(0.08) + (clear.length - abrupt) * Math.log(0.92)
  return points > averages ? 0 : 1
}

/**
 * A ramp falls evenly: over more steps than a drop can take, or over three and more when it is no faster than one and
 * a half times the fastest loading.
 */
function isRamp(
  timeS: Float64Array,
  loadN: Float64Array,
  { from, to }: Fall,
  rise: number,
  narrowest: number,
): boolean {
  const steps = to - from
  if (steps < 3) return false
  const most = steepest(loadN, from, to)
  const falls = Array.from({ length: steps }, (_, k) => loadN[from + k]! - loadN[from + k + 1]!).sort(
    (a, b) => a - b,
  )
  const typical = falls[steps >> 1]!
  // Nobody turns back within a fifth of a second, faster than they ever turned forwards.
  if (most > 1.5 * rise && timeS[to]! - timeS[from]! < HAND_S) return false
  if (most > FASTEST_BACK * rise && steps <= MOST_CHAIN) return false
  if (steps >= Math.max(5, narrowest + 3)) return most < 2.2 * typical
  return steps > narrowest && most < 1.5 * rise && most < 1.8 * ((loadN[from]! - loadN[to]!) / steps)
}

/**
 * Where most of the way down from the peak is gradual, the specimen softens (or is unloaded), and its descent has a
 * pace of its own: what falls less than about twice as fast as the quicker tenth of it is no drop.
 */
function outsideDescent(
  loadN: Float64Array,
  from: number,
  to: number,
  falls: readonly Fall[],
  options: DropOptions,
): readonly Fall[] {
  const top = greatestAt(loadN, from, to)
  const after = falls.filter(fall => fall.to > top)
  // What snaps at the end of a descent is not part of it.
  const last = after.at(-1)
  const snap = last && loadN[last.to]! <= options.thresholdN ? last : null
  const descendedN = loadN[top]! - loadN[snap ? snap.from : to - 1]!
  const others = after.filter(fall => fall !== snap)
  const quick = others.reduce((sum, fall) => sum + loadN[fall.from]! - loadN[fall.to]!, 0)
  if (descendedN < 0.08 * loadN[top]! || descendedN - quick < 0.5 * descendedN) return falls
  const paces: number[] = []
  for (let i = top + 1; i < to; i++) {
    const step = loadN[i - 1]! - loadN[i]!
    if (step > 0 && !after.some(fall => i > fall.from && i <= fall.to)) paces.push(step)
  }
  const pace = quantileSorted(Float64Array.from(paces).sort(), 0.9) ?? 0
  const least = 2.2 * pace + leastStepN(options)
  return falls.filter(fall => fall === snap || fall.to <= top || steepest(loadN, fall.from, fall.to) > least)
}

function steepest(loadN: Float64Array, from: number, to: number): number {
  let most = 0
  for (let i = from + 1; i <= to; i++) most = Math.max(most, loadN[i - 1]! - loadN[i]!)
  return most
}

/** Third-greatest rise between two neighbouring samples of the pull. */
function fastestRise(loadN: Float64Array, from: number, to: number): number {
  const top = [0, 0, 0]
  const next = (i: number): number => nextStep(loadN, i, to, top[2]!, Number.POSITIVE_INFINITY)
  for (let i = next(from + 1); i < to; i = next(i + 1)) {
    top[2] = loadN[i]! - loadN[i - 1]!
    top.sort((a, b) => b - a)
  }
  return top[2]!
}
