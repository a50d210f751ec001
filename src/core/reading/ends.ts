import { greatestAt } from '../signal/scan.ts'
import type { Explained } from './elements.ts'
import type { Drop } from './measureDrop.ts'
import { dropPriors } from './priors.ts'
import type { PullSpan } from './pulls.ts'

export type PullEnd = 'break' | 'unload' | 'softening' | 'end-of-record'

/** Abrupt partial losses after the top of a pull, in order, and the force that they add up to. */
function stepsAfterTop(
  loadN: Float64Array,
  pull: PullSpan,
  explained: readonly Explained[],
): { top: number; peakN: number; steps: readonly Explained[]; lostN: number } {
  const top = greatestAt(loadN, pull.from, pull.to)
  const steps = explained.filter(
    ({ kind, drop }) =>
      kind === 'partial-break' && drop.from >= top && drop.to >= pull.from && drop.from < pull.to,
  )
  const lostN = steps.reduce((sum, { drop }) => sum + drop.beforeN - drop.afterN, 0)
  return { top, peakN: loadN[top]!, steps, lostN }
}

export interface EndHints {
  /** Another pull came nearly as high. */
  readonly alike: boolean
  /** Extension or travel at each sample. */
  readonly travelMm: Float64Array | null
}

/** A descent that takes this many times the loading, or hangs on this much longer at its end, is no unload. */
const SLOW = 0.85
const LONG_TAIL = 1.5

/**
 * How a pull ended. A descent without a drop is an unload when it is short beside the loading and even; a pull-out
 * that softens takes longer than the loading and fades: its lower half lasts longer than its upper. A tear quickens
 * to its end, in a small part of the time under load; `alike` pulls that came as high speak against it. Where the log
 * has the travel it decides: it turns back in an unload and goes on in a tear.
 */
export function pullEnd(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  explained: readonly Explained[],
  { alike, travelMm }: EndHints,
): PullEnd {
  const own = explained.filter(e => e.drop.to >= pull.from && e.drop.from < pull.to)
  const broke = own.findLast(e => e.kind === 'break')
  if (pull.open) return broke && littleStays(loadN, pull, broke.drop) ? 'break' : 'end-of-record'
  if (broke) return 'break'
  const { top, peakN, steps, lostN } = stepsAfterTop(loadN, pull, explained)
  const leftN = steps.at(-1)?.drop.afterN ?? peakN
  if (!alike && lostN > dropPriors.stepsShare * peakN && leftN < 0.5 * peakN) return 'break'
  const drops = own.map(e => e.drop).filter(d => d.from >= pull.from && d.to < pull.to)
  const way = travelMm ? descentTravel(travelMm, loadN, pull, top) : null
  if (way === 'back') return 'unload'
  const descent = descentAfter(timeS, loadN, pull, drops.at(-1))
  const underLoadS = timeS[pull.to - 1]! - timeS[pull.from]!
  const held = descentFromHold(timeS, loadN, pull, top)
  const tears = ({ upperS, lowerS }: Descent): boolean =>
    lowerS < dropPriors.tearShare * underLoadS &&
    upperS > dropPriors.tearQuickens * lowerS &&
    (held === null || held.upperS > dropPriors.hastens * held.lowerS)
  // A tear may fall by a step on its way: then its haste shows over the whole of it.
  const stepped = drops.some(d => d.from >= top && d.afterN < 0.5 * peakN)
  if (!alike && (tears(descent) || (stepped && tears(descentAfter(timeS, loadN, pull, undefined)))))
    return 'break'
  const loading = loadingTime(timeS, loadN, pull)
  const slower = loading > 0 ? (descent.upperS + descent.lowerS) / (SLOW * loading) : 1
  const tail = descent.upperS > 0 ? descent.lowerS / descent.upperS : 1
  const fading = tail / LONG_TAIL
  if (slower * fading > 1) return 'softening'
  return way === 'on' ? 'break' : 'unload'
}

/**
 * Whether hardly any force is left after a break, to the end of the record: what stays may be a weight on the cell, or
 * a zero that the blow has moved.
 */
function littleStays(loadN: Float64Array, pull: PullSpan, { to, beforeN }: Drop): boolean {
  if (pull.to - to < MIN_AFTER_BREAK) return false
  return loadN[greatestAt(loadN, to, pull.to)]! < dropPriors.leftAtEnd * beforeN
}

/** Readings after a break that show what stays, at least. */
const MIN_AFTER_BREAK = 3

/** Travel in the descent that counts, as a share of the way of the loading. */
const WAY_SHARE = 0.02

/** Whether the travel went on or back while the force fell to a tenth of the top; `null` where it stood still. */
function descentTravel(
  travelMm: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  top: number,
): 'on' | 'back' | null {
  const loadedMm = travelMm[top]! - travelMm[pull.from]!
  let low = top
  while (low < pull.to - 1 && loadN[low]! > 0.1 * loadN[top]!) low++
  const share = (travelMm[low]! - travelMm[top]!) / loadedMm
  if (!Number.isFinite(share) || Math.abs(share) < WAY_SHARE) return null
  return share > 0 ? 'on' : 'back'
}

interface Descent {
  readonly upperS: number
  readonly lowerS: number
}

/** Times from 90 % to 50 % of the last top, and from there to 10 %. */
function descentAfter(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  last: Drop | undefined,
): Descent {
  const from = last ? last.to : pull.from
  const top = greatestAt(loadN, from, pull.to)
  const lastAbove = (share: number): number => {
    let i = pull.to - 1
    while (i > top && loadN[i]! < share * loadN[top]!) i--
    return timeS[i]!
  }
  const middle = lastAbove(0.5)
  return { upperS: middle - lastAbove(0.9), lowerS: lastAbove(0.1) - middle }
}

/**
 * Times of the descent from a hold that was crept down before it, from 90 % to 50 % of the force at its end and from
 * there to 10 %; `null` where nothing was held. A specimen that is held relaxes less and less; one that tears gives way
 * more and more.
 */
function descentFromHold(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  top: number,
): Descent | null {
  const lastAbove = (levelN: number): number => {
    let i = pull.to - 1
    while (i > top && loadN[i]! < levelN) i--
    return i
  }
  const end = shoulder(timeS, loadN, top, lastAbove(0.1 * loadN[top]!))
  const halfS = (timeS[top]! + timeS[end]!) / 2
  let half = top
  while (timeS[half]! < halfS) half++
  if (loadN[top]! - loadN[half]! <= 0.5 * (loadN[top]! - loadN[end]!)) return null
  const at = (share: number): number => Math.max(timeS[end]!, timeS[lastAbove(share * loadN[end]!)]!)
  const middle = at(0.5)
  // Either time is known to a reading.
  const periodS = (timeS[pull.to - 1]! - timeS[pull.from]!) / (pull.to - pull.from)
  return { upperS: middle - at(0.9), lowerS: at(0.1) - middle + periodS }
}

/** Where a descent of `loadN` from `top` to `end` stands highest above the straight line between the two. */
function shoulder(timeS: Float64Array, loadN: Float64Array, top: number, end: number): number {
  const slope = (loadN[end]! - loadN[top]!) / Math.max(timeS[end]! - timeS[top]!, Number.MIN_VALUE)
  let at = top
  let highest = 0
  for (let i = top + 1; i < end; i++) {
    const above = loadN[i]! - loadN[top]! - slope * (timeS[i]! - timeS[top]!)
    if (above > highest) {
      highest = above
      at = i
    }
  }
  return at
}

/** Time in which the force first rose from 10 % to 90 % of the greatest. */
export function loadingTime(timeS: Float64Array, loadN: Float64Array, pull: PullSpan): number {
  const top = greatestAt(loadN, pull.from, pull.to)
  const firstAbove = (share: number): number => {
    let i = pull.from
    while (i < top && loadN[i]! < share * loadN[top]!) i++
    return timeS[i]!
  }
  return firstAbove(0.9) - firstAbove(0.1)
}

/**
 * Where a record ends under what is left of a specimen that has failed in steps, its last great step is the break:
 * the abrupt drops after the peak add up to a good part of it, and little force remains.
 */
export function withLastStep(
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  explained: readonly Explained[],
): Explained[] {
  const out = [...explained]
  for (const pull of pulls) {
    if (!pull.open) continue
    const { peakN, steps, lostN } = stepsAfterTop(loadN, pull, out)
    if (lostN < dropPriors.stepsShare * peakN || loadN[pull.to - 1]! > dropPriors.leftAtEnd * peakN) continue
    const last = steps.findLast(({ drop }) => drop.beforeN - drop.afterN > LAST_STEP * peakN)
    if (last) out[out.indexOf(last)] = { ...last, kind: 'break' }
  }
  return out
}

/**
 * Without breaks at a force that is small beside what a later pull reached: what is broken carries nothing, so a catch
 * was let go. What a person has called a break, with certainty, stays one.
 */
export function withoutCarriedMore(
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  explained: readonly Explained[],
): readonly Explained[] {
  const topN = pulls.map(({ from, to }) => loadN[greatestAt(loadN, from, to)]!)
  const laterN = pulls.map((_, k) => Math.max(0, ...topN.slice(k + 1)))
  return explained.filter(
    ({ kind, confidence, drop }) =>
      kind !== 'break' || confidence === 1 || drop.beforeN >= dropPriors.smallBreak * laterN[drop.pull]!,
  )
}

/** A step that counts as the last of a failure takes this share of the peak. */
const LAST_STEP = 0.03
