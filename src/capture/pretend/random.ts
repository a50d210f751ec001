/** A seeded source of random numbers: the same seed gives the same pretend pull on every machine. */
export interface Random {
  /** Even over [0, 1). */
  next(): number
  between(low: number, high: number): number
  /** Whole number, both ends included. */
  whole(low: number, high: number): number
  pick<T>(from: readonly T[]): T
  chance(probability: number): boolean
  normal(mean?: number, sd?: number): number
  /** Exponential waiting time with the mean given. */
  wait(mean: number): number
}

/** 32-bit mix of a word, so that neighbouring seeds give unlike streams (the finaliser of a multiply–xorshift hash). */
function mixed(word: number): number {
  let h = word | 0
  h = Math.imul(h ^ (h >>> 16), 0x21f0aaad)
  h = Math.imul(h ^ (h >>> 15), 0x735a2d97)
  return (h ^ (h >>> 15)) >>> 0
}

/** Folds a text into a 32-bit word, so that each kind of pull has a stream of its own for the same seed. */
export function wordOf(text: string): number {
  let h = 0x9e3779b9
  for (let i = 0; i < text.length; i++) h = mixed(h ^ text.charCodeAt(i)) + i
  return h >>> 0
}

/** A counter run through a 32-bit mix (splitmix); period 2³², ample for a few thousand draws a pull. */
export function seeded(seed: number): Random {
  let state = mixed(seed ^ 0x5bd1e995)
  const next = (): number => {
    state = (state + 0x9e3779b9) | 0
    // Two words make 53 bits, so that fine differences of strength are not cut off.
    const high = mixed(state) >>> 5
    state = (state + 0x9e3779b9) | 0
    const low = mixed(state) >>> 6
    return (high * 67_108_864 + low) / 9_007_199_254_740_992
  }
  const between = (low: number, high: number): number => low + (high - low) * next()
  return {
    next,
    between,
    whole: (low, high) => Math.floor(between(low, high + 1)),
    pick: from => {
      const chosen = from[Math.floor(next() * from.length)]
      if (chosen === undefined) throw new RangeError('pick needs at least one thing to choose from')
      return chosen
    },
    chance: probability => next() < probability,
    // Box–Muller; the sine half is let go, which keeps the stream free of hidden state.
    normal: (mean = 0, sd = 1) =>
      mean + sd * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
    wait: mean => -mean * Math.log(1 - next()),
  }
}
