import { greatestAt } from '../signal/scan.ts'
import type { Explained } from './elements.ts'
import type { Drop } from './measureDrop.ts'
import type { PullSpan } from './pulls.ts'

export type PullEnd = 'break' | 'unload' | 'softening' | 'end-of-record'

/** A descent that takes this many times the loading, or hangs on this much longer at its end, is no unload. */
const SLOW = 0.85
const LONG_TAIL = 1.5

/**
 * How a pull ended. A descent without a drop is an unload when it is short beside the loading and even; a pull-out
 * that softens takes longer than the loading and fades: its lower half lasts longer than its upper.
 */
export function pullEnd(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  explained: readonly Explained[],
): PullEnd {
  if (pull.open) return 'end-of-record'
  if (explained.some(e => e.kind === 'break' && e.drop.to >= pull.from && e.drop.from < pull.to))
    return 'break'
  const drops = explained.map(e => e.drop).filter(d => d.from >= pull.from && d.to < pull.to)
  const descent = descentAfter(timeS, loadN, pull, drops.at(-1))
  const loading = loadingTime(timeS, loadN, pull)
  const slower = loading > 0 ? descent.lastsS / (SLOW * loading) : 1
  const fading = descent.tail / LONG_TAIL
  return slower * fading > 1 ? 'softening' : 'unload'
}

/** Time from 90 % to 10 % of the last top, and how much longer 50 % to 10 % took than 90 % to 50 %. */
function descentAfter(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  last: Drop | undefined,
): { lastsS: number; tail: number } {
  const from = last ? last.to : pull.from
  const top = greatestAt(loadN, from, pull.to)
  const lastAbove = (share: number): number => {
    let i = pull.to - 1
    while (i > top && loadN[i]! < share * loadN[top]!) i--
    return timeS[i]!
  }
  const high = lastAbove(0.9)
  const middle = lastAbove(0.5)
  const low = lastAbove(0.1)
  return { lastsS: low - high, tail: middle > high ? (low - middle) / (middle - high) : 1 }
}

/** Time in which the force first rose from 10 % to 90 % of the greatest. */
function loadingTime(timeS: Float64Array, loadN: Float64Array, pull: PullSpan): number {
  const top = greatestAt(loadN, pull.from, pull.to)
  const firstAbove = (share: number): number => {
    let i = pull.from
    while (i < top && loadN[i]! < share * loadN[top]!) i++
    return timeS[i]!
  }
  return firstAbove(0.9) - firstAbove(0.1)
}
