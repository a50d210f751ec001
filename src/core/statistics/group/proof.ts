import { betaQuantile, betaUpperQuantile } from '../distributions/beta.ts'

/** What k of n specimens that held a given load say of all. */
export interface ProofRecord {
  readonly held: number
  readonly of: number
  /** Two-sided 95 % interval of the share that holds. */
  readonly ci95: readonly [number, number]
  /** A share that holds, with 95 % confidence, at the least. */
  readonly atLeast: number
}

/**
 * Exact by the binomial distribution: Clopper and Pearson, Biometrika 26 (1934) 404; ends from the beta distribution. None that
 * let go does not mean that none will: 10 of 10 show no more than that 74 in 100 hold.
 */
export function proofRecord(held: number, of: number): ProofRecord {
  const least = (p: number): number => (held === 0 ? 0 : betaQuantile(p, held, of - held + 1))
  const most = held === of ? 1 : betaUpperQuantile(0.025, held + 1, of - held)
  return { held, of, ci95: [least(0.025), most], atLeast: least(0.05) }
}

/** Beyond this many a bench is the wrong place. */
const MOST = 10_000

/** Fewest specimens that show, with 95 % confidence, that at least `share` hold, if `letGo` of them do not; `null` beyond reason. */
export function specimensForProof(share: number, letGo = 0): number | null {
  let [low, high] = [letGo, letGo + 1]
  const shows = (n: number): boolean => n > letGo && proofRecord(n - letGo, n).atLeast >= share
  while (!shows(high)) {
    if (high >= MOST) return null
    low = high
    high = Math.min(MOST, high * 2)
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (shows(middle)) high = middle
    else low = middle
  }
  return high
}
