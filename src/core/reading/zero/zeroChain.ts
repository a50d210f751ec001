import { ChainCosts, type ZeroChainInput } from './chainCosts.ts'

/** A zero at the time of the greatest reading, and the probability of all hypotheses that have it there. */
export interface ZeroBelief {
  readonly levelN: number
  readonly weight: number
  /** Rests on either side of the time, as places in `quiets`; `null` where there is none. */
  readonly before: number | null
  readonly after: number | null
}

export interface ZeroChain {
  /** The likeliest choice: places in `quiets`, in order; none: the indicator is believed. */
  readonly rests: readonly number[]
  readonly beliefs: readonly ZeroBelief[]
  /** Levels that lie nearer than this to the zero are at it. */
  readonly marginN: number
}

/**
 * Which of the quiet stretches of one zero period show the empty cell.
 *
 * Every ordered choice of stretches that are called rests is a hypothesis; the zero runs straight from one rest to the
 * next. A hypothesis pays for the first rest's level (was the cell tared?), for each step of the zero between rests,
 * for each stretch above the zero that it must call a held load, for each below that it must call a push, and for other
 * readings below the zero that last. The empty choice believes the indicator: zero is nought. All choices are summed by
 * a forward and a backward pass, as in a hidden semi-Markov model whose states are *rest* and *loaded*.
 *
 * `peakS` is the time at which the zero matters. Probabilities of all choices add up to 1.
 */
export function zeroChain(input: ZeroChainInput, peakS: number): ZeroChain {
  const { quiets } = input
  const n = quiets.length
  const costs = new ChainCosts(input)
  // Sums over all choices whose last rest is k, and over what may follow it.
  const forward = new Float64Array(n)
  const best = new Float64Array(n)
  const from = new Int32Array(n).fill(-1)
  const step: number[][] = []
  for (let k = 0; k < n; k++) {
    const alone = costs.first(k)
    const logs = [alone]
    best[k] = alone
    step[k] = []
    for (let j = 0; j < k; j++) {
      const log = costs.between(j, k)
      step[k]!.push(log)
      logs.push(forward[j]! + log)
      if (best[j]! + log > best[k]!) {
        best[k] = best[j]! + log
        from[k] = j
      }
    }
    forward[k] = logSum(logs)
  }
  const last = Float64Array.from({ length: n }, (_, k) => costs.last(k))
  const backward = new Float64Array(n)
  for (let k = n - 1; k >= 0; k--) {
    const logs = [last[k]!]
    for (let m = k + 1; m < n; m++) logs.push(step[m]![k]! + backward[m]!)
    backward[k] = logSum(logs)
  }
  const none = costs.none()
  const all: { log: number; levelN: number; before: number | null; after: number | null }[] = [
    { log: none, levelN: 0, before: null, after: null },
  ]
  for (let k = 0; k < n; k++) {
    const own = quiets[k]!
    if (own.fromS > peakS)
      all.push({ log: costs.first(k) + backward[k]!, levelN: own.levelN, before: null, after: k })
    else all.push({ log: forward[k]! + last[k]!, levelN: own.levelN, before: k, after: null })
    if (own.fromS > peakS) continue
    for (let m = k + 1; m < n; m++) {
      const next = quiets[m]!
      if (next.fromS <= peakS) continue
      const share = (peakS - own.toS) / Math.max(1e-9, next.fromS - own.toS)
      const levelN = own.levelN + Math.min(1, Math.max(0, share)) * (next.levelN - own.levelN)
      all.push({ log: forward[k]! + step[m]![k]! + backward[m]!, levelN, before: k, after: m })
    }
  }
  const total = logSum(all.map(a => a.log))
  const beliefs = all
    .map(({ log, ...rest }) => ({ ...rest, weight: Math.exp(log - total) }))
    .sort((a, b) => b.weight - a.weight)
  let end = -1
  let most = none
  for (let k = 0; k < n; k++)
    if (best[k]! + last[k]! > most) {
      most = best[k]! + last[k]!
      end = k
    }
  const rests: number[] = []
  for (let k = end; k >= 0; k = from[k]!) rests.unshift(k)
  return { rests, beliefs, marginN: costs.marginN }
}

function logSum(logs: readonly number[]): number {
  const most = Math.max(...logs)
  if (most === Number.NEGATIVE_INFINITY) return most
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0))
}
