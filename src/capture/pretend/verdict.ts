import type { Happening } from './bench.ts'
import type { TruePull, Truth, Window } from './truth.ts'

/** What a reading may rightly say of the greatest force, from what truly happened. */
export type Verdict = Pick<Truth, 'status' | 'zero' | 'peakKnown' | 'peakShownN'>

export interface Evidence {
  readonly happening: Happening
  readonly windows: readonly Window[]
  readonly pulls: readonly TruePull[]
  readonly events: Truth['events']
  readonly gaps: Truth['gaps']
  readonly peakS: number
  readonly thresholdN: number
  readonly zeroSeen: boolean
  readonly clipped: boolean
  /** A break was seen to begin, or its level after it for a few readings. */
  readonly endTells: boolean
}

/** A load counts as fallen, for the question whether the strength was reached, from this share of the peak down. */
const FALLEN_TO = 0.95

export function verdictOf(e: Evidence): Verdict {
  if (e.pulls.length === 0) return { status: ['no-pull'], zero: null, peakKnown: false, peakShownN: 0 }
  const topGap = e.gaps.some(g => g.from < e.peakS && e.peakS < g.to)
  return {
    status: statusOf(e, topGap),
    zero: zeroOf(e),
    peakKnown: !e.clipped && !topGap && (e.zeroSeen || indicatorIsRight(e)),
    peakShownN: greatestShownN(e),
  }
}

function statusOf(
  { clipped, pulls, events, happening, windows }: Evidence,
  topGap: boolean,
): Truth['status'] {
  if (clipped || topGap) return ['at-least']
  if (pulls.some(p => p.ends === 'break' || p.ends === 'softening')) return ['measured']
  if (events.some(v => v.kind === 'break' && v.weight === 'must')) return ['measured']
  const main = pulls.reduce((a, b) => (b.peakN > a.peakN ? b : a))
  const last = windows.at(-1)!
  const leftN = happening.forceN[last.to - 1]!
  // Ended under load with part of it gone already: a reader may hold either.
  const partly =
    main.ends === 'end-of-record' &&
    events.some(v => v.kind === 'partial-break') &&
    leftN < FALLEN_TO * main.peakN
  const unsure = partly || events.some(v => v.kind === 'break')
  return unsure ? ['measured', 'not-reached', 'not-recorded'] : ['not-reached']
}

/** The zero key was last pressed with no load on the specimen. */
function indicatorIsRight({ happening, windows, thresholdN, peakS }: Evidence): boolean {
  const pressed = pressedBefore(happening, windows, peakS)
  return pressed !== undefined && happening.forceN[pressed]! < 0.1 * thresholdN
}

function zeroOf(e: Evidence): Truth['zero'] {
  if (!e.zeroSeen) return e.endTells && !indicatorIsRight(e) ? null : 'as-indicated'
  const pressed = pressedBefore(e.happening, e.windows, e.peakS)
  return pressed !== undefined && e.happening.forceN[pressed]! > e.thresholdN ? 'set-under-load' : 'seen'
}

function pressedBefore(
  { zeros, stepS }: Happening,
  windows: readonly Window[],
  atS: number,
): number | undefined {
  const window = windows.findLast(w => w.startS <= atS) ?? windows[0]!
  const step = window.from + Math.round((atS - window.startS) / stepS)
  return zeros.findLast(z => z <= step)
}

/** Greatest force at a moment that was recorded. */
function greatestShownN({ happening: { forceN, stepS }, windows, gaps }: Evidence): number {
  let greatest = 0
  for (const w of windows)
    for (let i = w.from; i < w.to; i++) {
      const t = w.startS + (i - w.from) * stepS
      if (forceN[i]! > greatest && !gaps.some(g => g.from < t && t < g.to)) greatest = forceN[i]!
    }
  return greatest
}
