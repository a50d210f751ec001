/** A stream of pseudo-random numbers that a seed fixes: the same seed gives the same stream on every machine. */
export interface Random {
  /** Uniform on [0, 1), 53 bits. */
  uniform(): number
  /** A whole number from 0 to `below` − 1, each equally likely. */
  below(below: number): number
  /** Standard normal. */
  normal(): number
}

/**
 * xoshiro128** 1.1 (Blackman and Vigna 2021, Scrambled linear pseudorandom number generators, ACM Trans. Math. Softw.
 * 47(4)): period 2^128 − 1, 32 bits at a time. Its state is filled from the seed by SplitMix32, so that neighbouring
 * seeds give unrelated streams. For resampling and simulation; never for secrets.
 */
export function seededRandom(seed: number): Random {
  if (!Number.isSafeInteger(seed) || seed < 0)
    throw new RangeError(`a seed is a whole number from 0, got ${seed}`)
  const fill = splitMix32((seed >>> 0) ^ Math.imul(Math.floor(seed / 2 ** 32), 0x9e3779b1))
  let a = fill()
  let b = fill()
  let c = fill()
  let d = fill() | 1 // the state must not be all zero
  let spare: number | null = null

  const bits = (): number => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0
    const t = b << 9
    c ^= a
    d ^= b
    b ^= c
    a ^= d
    c ^= t
    d = rotate(d, 11)
    return result
  }
  const uniform = (): number => ((bits() >>> 5) * 2 ** 26 + (bits() >>> 6)) / 2 ** 53
  const below = (limit: number): number => {
    // Multiply and shift; the first few products are thrown back so that none is favoured (Lemire 2019).
    const unfair = 2 ** 32 % limit
    for (;;) {
      const product = bits() * limit
      if (product % 2 ** 32 >= unfair) return Math.floor(product / 2 ** 32)
    }
  }
  const normal = (): number => {
    if (spare !== null) {
      const value = spare
      spare = null
      return value
    }
    // Marsaglia's polar method (Marsaglia and Bray 1964): two at a time.
    for (;;) {
      const u = 2 * uniform() - 1
      const v = 2 * uniform() - 1
      const square = u * u + v * v
      if (square >= 1 || square === 0) continue
      const factor = Math.sqrt((-2 * Math.log(square)) / square)
      spare = v * factor
      return u * factor
    }
  }
  return { uniform, below, normal }
}

/** The values in random order (Fisher–Yates); the given list stays as it is. */
export function shuffled<T>(values: readonly T[], random: Random): T[] {
  const order = [...values]
  for (let i = order.length - 1; i > 0; i--) {
    const j = random.below(i + 1)
    ;[order[i], order[j]] = [order[j]!, order[i]!]
  }
  return order
}

const rotate = (word: number, by: number): number => (word << by) | (word >>> (32 - by))

/** A 32-bit counter through a mixing function (Steele, Lea and Flood 2014; constants of MurmurHash3's finaliser). */
function splitMix32(start: number): () => number {
  let state = start | 0
  return () => {
    state = (state + 0x9e3779b9) | 0
    let z = state ^ (state >>> 16)
    z = Math.imul(z, 0x85ebca6b)
    z ^= z >>> 13
    z = Math.imul(z, 0xc2b2ae35)
    return z ^ (z >>> 16)
  }
}
