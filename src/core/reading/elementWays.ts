interface Ways {
  readonly total: number
  /** The last drop leaves nothing. */
  readonly broken: boolean
  /** Chance that an element went unseen. */
  readonly unseen: number
  /** Chance that a drop is a slip. */
  readonly slipping: number
}

/** Adds, for each drop, the joint weight of every way through the record in which it is a slip, or a break of m; gives their sum. */
export function addWays(
  sums: { slip: number; counts: Float64Array }[],
  tables: readonly Float64Array[],
  slipLikelihoods: readonly number[],
  { total, broken, unseen, slipping }: Ways,
  weight: number,
): number {
  const width = total + 1
  const before: Float64Array[] = []
  let state = new Float64Array(width)
  state[total] = 1
  tables.forEach((table, k) => {
    state = withUnseen(state, unseen)
    before.push(state)
    const next = new Float64Array(width)
    const slip = slipping * slipLikelihoods[k]!
    for (let n = 1; n <= total; n++) {
      const here = state[n]!
      if (here < 1e-40) continue
      next[n]! += here * slip
      for (let m = 1; m <= n; m++) next[n - m]! += here * (1 - slipping) * table[n * width + m]!
    }
    state = next
  })
  let after = new Float64Array(width).fill(1)
  if (broken) after.fill(0, 1)
  for (let k = tables.length - 1; k >= 0; k--) {
    const table = tables[k]!
    const from = before[k]!
    const sum = sums[k]!
    const earlier = new Float64Array(width)
    const slip = slipping * slipLikelihoods[k]!
    for (let n = 1; n <= total; n++) {
      const here = weight * from[n]!
      const slips = slip * after[n]!
      sum.slip += here * slips
      let all = slips
      for (let m = 1; m <= n; m++) {
        const way = (1 - slipping) * table[n * width + m]! * after[n - m]!
        if (way === 0) continue
        sum.counts[m]! += here * way
        all += way
      }
      earlier[n] = all
    }
    after = withUnseenBack(earlier, unseen)
  }
  return weight * after[total]!
}

/** Some elements may have gone unseen since the last drop. */
function withUnseen(state: Float64Array, chance: number): Float64Array<ArrayBuffer> {
  const out = Float64Array.from(state)
  for (let n = state.length - 1; n > 1; n--) {
    let share = chance
    for (let u = 1; u <= 3 && n - u >= 1; u++, share *= chance) out[n - u]! += state[n]! * share
  }
  return out
}

function withUnseenBack(after: Float64Array, chance: number): Float64Array<ArrayBuffer> {
  const out = Float64Array.from(after)
  for (let n = after.length - 1; n > 1; n--) {
    let share = chance
    for (let u = 1; u <= 3 && n - u >= 1; u++, share *= chance) out[n]! += after[n - u]! * share
  }
  return out
}
