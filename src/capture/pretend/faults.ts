import type { Output } from './converter.ts'
import type { Random } from './random.ts'

/** What the line does to a log. Times count from the start of the log. */
export interface FaultSpec {
  readonly spikes: number
  readonly gaps: number
  /** Single readings at twenty to a thousand times the greatest. */
  readonly absurd: number
  /** Seconds before and after the greatest force of which nothing is kept. */
  readonly topGap: { readonly beforeS: number; readonly afterS: number } | null
  /** Nothing is spoilt within this time of the moments that matter. */
  readonly keepClearS: number
}

export interface Faulted {
  readonly output: Output
  readonly spikes: readonly { readonly t: number }[]
  readonly gaps: readonly { readonly from: number; readonly to: number }[]
}

/** Throws single wild readings into a log and takes stretches out of it, away from the moments given. */
export function spoil(
  output: Output,
  spec: FaultSpec,
  clearOf: readonly number[],
  topS: number,
  stepOf: number,
  random: Random,
): Faulted {
  const n = output.timeS.length
  const indicated = output.indicated.slice()
  const spikes: { t: number }[] = []
  const gaps: { from: number; to: number }[] = []
  const lost = new Uint8Array(n)
  const isClear = (fromS: number, toS: number): boolean =>
    fromS > output.timeS[0]! + 0.3 &&
    toS < output.timeS[n - 1]! - 0.3 &&
    [...clearOf, ...spikes.map(s => s.t), ...gaps.flatMap(g => [g.from, g.to])].every(
      t => t < fromS - spec.keepClearS || t > toS + spec.keepClearS,
    ) &&
    !clearOf.some(t => t > fromS && t < toS)
  let scale = 0
  for (const v of output.indicated) scale = Math.max(scale, Math.abs(v))

  if (spec.topGap) {
    const first = output.timeS.findLastIndex(t => t < topS - spec.topGap!.beforeS)
    const after = output.timeS.findIndex(t => t > topS + spec.topGap!.afterS)
    if (first >= 0 && after > first + 2) {
      lost.fill(1, first + 1, after)
      gaps.push({ from: output.timeS[first]!, to: output.timeS[after]! })
    }
  }
  const wanted = gaps.length + spec.gaps
  for (let tries = 0; gaps.length < wanted && tries < 200; tries++) {
    const lastsS = Math.max(4.2 * stepOf, random.between(0.05, 0.9))
    const first = random.whole(2, n - 3)
    const after = output.timeS.findIndex(t => t >= output.timeS[first]! + lastsS)
    if (after < 0 || after > n - 3 || !isClear(output.timeS[first]!, output.timeS[after]!)) continue
    lost.fill(1, first + 1, after)
    gaps.push({ from: output.timeS[first]!, to: output.timeS[after]! })
  }
  for (let tries = 0; spikes.length < spec.spikes + spec.absurd && tries < 200; tries++) {
    const at = random.whole(3, n - 4)
    const t = output.timeS[at]!
    if (lost[at] === 1 || !isClear(t, t)) continue
    const ordinary = spikes.length < spec.spikes
    const times = ordinary ? random.between(0.12, 3) : 20 * 50 ** random.next()
    const size = scale * times * (random.chance(0.5) ? 1 : -1)
    indicated[at] = ordinary && random.chance(0.2) ? 0 - scale * 2 : indicated[at]! + size
    spikes.push({ t })
  }

  const kept = (values: Float64Array): Float64Array => values.filter((_, i) => lost[i] === 0)
  return {
    output: {
      ...output,
      timeS: kept(output.timeS),
      indicated: kept(indicated),
      travelMm: kept(output.travelMm),
      clipped: output.clipped.filter((_, i) => lost[i] === 0),
    },
    spikes: spikes.sort((a, b) => a.t - b.t),
    gaps: gaps.sort((a, b) => a.from - b.from),
  }
}
