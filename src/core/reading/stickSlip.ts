import type { Drop } from './measureDrop.ts'
import { dropPriors } from './priors.ts'

/**
 * Drops without those of a stick-slip: a specimen, a grip or a drive that holds and lets go again and again loses
 * force many times but no stiffness, and comes back to the force it had. Elements that break take stiffness with
 * them. A drop far larger than the usual one stays, and so does one that leaves nothing.
 *
 * `elements`: how many equal elements the specimen has; that many drops may be theirs.
 */
export function withoutStickSlip(drops: readonly Drop[], elements: number | null): readonly Drop[] {
  const out: Drop[] = []
  for (const pull of new Set(drops.map(d => d.pull))) {
    const own = drops.filter(d => d.pull === pull)
    const ordinary = own.filter(d => !d.leavesNothing && !d.stops)
    const lost = median(ordinary.map(d => d.beforeN - d.afterN))
    const isTexture = ordinary.length > (elements ?? 0) && holdsOn(ordinary)
    out.push(
      ...(isTexture
        ? own.filter(d => !ordinary.includes(d) || d.beforeN - d.afterN > FAR_LARGER * lost)
        : own),
    )
  }
  return out
}

/** A drop so many times larger than the usual one is no part of the stick-slip. */
const FAR_LARGER = 3

/** Whether neither stiffness nor force has gone after many drops. */
function holdsOn(drops: readonly Drop[]): boolean {
  if (drops.length < dropPriors.stickSlipDrops) return false
  const third = Math.floor(drops.length / 3)
  const early = drops.slice(1, third + 1)
  const late = drops.slice(-third)
  const slope = (of: readonly Drop[]): number => median(of.map(d => d.before.slopeNPerS))
  const force = (of: readonly Drop[]): number => median(of.map(d => d.beforeN))
  return (
    slope(late) > dropPriors.stickSlipKeeps * slope(early) &&
    force(late) > dropPriors.stickSlipKeeps * force(early) &&
    slope(early) > 0
  )
}

function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort()
  return sorted[sorted.length >> 1] ?? 0
}
