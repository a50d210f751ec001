import type { Drop } from './measureDrop.ts'
import { dropPriors } from './priors.ts'

/**
 * Drops without those of a stick-slip: a specimen, a grip or a drive that holds and lets go again and again loses
 * force many times but no stiffness, and comes back to the force it had. Elements that break take stiffness with
 * them. A drop far larger than the usual one stays, and so does one that leaves nothing. Where the drops do not say so
 * together, those that are among as many teeth of a texture of their size go all the same.
 *
 * `elements`: how many equal elements the specimen has; that many drops may be theirs.
 */
export function withoutStickSlip(drops: readonly Drop[], elements: number | null): readonly Drop[] {
  const out: Drop[] = []
  for (const pull of new Set(drops.map(d => d.pull))) {
    const own = drops.filter(d => d.pull === pull)
    const ordinary = own.filter(d => !d.leavesNothing && !d.stops)
    const lost = median(ordinary.map(d => d.beforeN - d.afterN))
    const isTexture =
      ordinary.length > (elements ?? 0) && keepsItsStrength(ordinary) > dropPriors.breaksRather
    out.push(
      ...(isTexture
        ? own.filter(d => !ordinary.includes(d) || d.beforeN - d.afterN > FAR_LARGER * lost)
        : own.filter(d => !ordinary.includes(d) || !d.amongTeeth || d.share > MOST_OF_A_TOOTH)),
    )
  }
  return out
}

/** A drop so many times larger than the usual one is no part of the stick-slip. */
const FAR_LARGER = 3
/** No tooth of a texture takes a greater share of the force. */
const MOST_OF_A_TOOTH = 0.25
/** Fewer drops than this tell nothing of how a specimen weakens. */
const MIN_DROPS = 3

/**
 * What the drops of a pull say for a specimen that is as strong and as stiff after each as before, against one that
 * loses at each drop the share of its stiffness by which the force fell: logarithm of the likelihood ratio.
 *
 * Where elements broke, force and slope before each drop, each over the share that was still whole, are about the
 * same from drop to drop; where nothing broke, force and slope themselves are. The logarithms scatter about their
 * median as a Laplace distribution, cut off where one of them says too much by itself.
 */
export function keepsItsStrength(drops: readonly Drop[]): number {
  if (drops.length < MIN_DROPS) return 0
  let lost = 0
  const points = drops.map(d => {
    const point = { forceN: d.beforeN, slopeNPerS: d.before.slopeNPerS, lost }
    lost -= Math.log(Math.max(MIN_LEFT, 1 - d.share))
    return point
  })
  const rising = points.filter(p => p.slopeNPerS > 0)
  const gain = (of: readonly { readonly log: number; readonly lost: number }[]): number =>
    scatter(of.map(p => p.log + p.lost)) - scatter(of.map(p => p.log))
  return (
    gain(points.map(p => ({ log: Math.log(p.forceN), lost: p.lost }))) +
    (rising.length < MIN_DROPS ? 0 : gain(rising.map(p => ({ log: Math.log(p.slopeNPerS), lost: p.lost }))))
  )
}

/** A drop leaves at least this share of the stiffness, as far as its evidence counts. */
const MIN_LEFT = 0.02
/** One drop says no more than this for either, in nat. */
const MOST_SAID = 3

/** Distances from the median in spreads, summed: minus the logarithm of the likelihood but for a constant. */
function scatter(logs: readonly number[]): number {
  const middle = median(logs)
  return logs.reduce(
    (sum, l) => sum + Math.min(MOST_SAID, Math.abs(l - middle) / dropPriors.strengthSpread),
    0,
  )
}

function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort()
  return sorted[sorted.length >> 1] ?? 0
}
