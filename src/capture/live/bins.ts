/** Width of a bin, and how many are kept: two seconds. */
const BIN_S = 0.05
const KEPT = 40

export interface Bins {
  add(atS: number, force: number): void
  /** Slope over the last `spanS`, not farther back than `sinceS`; `null` for too little. */
  slope(spanS: number, sinceS: number): number | null
  /** Mean, least and greatest over the last `spanS`; `null` where the samples do not reach back so far. */
  over(spanS: number): { readonly mean: number; readonly low: number; readonly high: number } | null
  clear(): void
}

/** The last two seconds in short means, so that what is asked of them costs the same at every rate. */
export function keepBins(): Bins {
  let bins: { fromS: number; n: number; time: number; sum: number; low: number; high: number }[] = []
  const last = (spanS: number, sinceS = Number.NEGATIVE_INFINITY) => {
    const newest = bins.at(-1)
    if (!newest) return []
    const fromS = Math.max(sinceS, newest.time / newest.n - spanS)
    return bins.filter(bin => bin.time / bin.n >= fromS)
  }
  return {
    add(atS, force) {
      const bin = bins.at(-1)
      if (bin && atS - bin.fromS < BIN_S) {
        bin.n++
        bin.time += atS
        bin.sum += force
        bin.low = Math.min(bin.low, force)
        bin.high = Math.max(bin.high, force)
        return
      }
      bins.push({ fromS: atS, n: 1, time: atS, sum: force, low: force, high: force })
      if (bins.length > KEPT) bins.shift()
    },
    slope(spanS, sinceS) {
      const used = last(spanS, sinceS)
      if (used.length < 3) return null
      const t0 = used[0]!.fromS
      const n = used.length
      let st = 0
      let sf = 0
      let stt = 0
      let stf = 0
      for (const bin of used) {
        const t = bin.time / bin.n - t0
        const f = bin.sum / bin.n
        st += t
        sf += f
        stt += t * t
        stf += t * f
      }
      const spread = n * stt - st * st
      return spread > 0 ? (n * stf - st * sf) / spread : null
    },
    over(spanS) {
      const used = last(spanS)
      const first = used[0]
      const newest = used.at(-1)
      if (!first || !newest || used.length < 3 || newest.time / newest.n - first.fromS < 0.8 * spanS)
        return null
      const n = used.reduce((sum, bin) => sum + bin.n, 0)
      return {
        mean: used.reduce((sum, bin) => sum + bin.sum, 0) / n,
        low: Math.min(...used.map(bin => bin.low)),
        high: Math.max(...used.map(bin => bin.high)),
      }
    },
    clear() {
      bins = []
    },
  }
}
