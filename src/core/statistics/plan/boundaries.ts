import { normalPdf, normalQuantile, normalUpperTail } from '../distributions/normal.ts'
import { gaussLegendre } from '../distributions/quadrature.ts'
import { findRoot } from '../distributions/root.ts'

/** Chance of a false alarm, both sides together, that may be spent by the share `t` of the planned information. */
export const spentEarly = (t: number, alpha: number): number =>
  4 * normalUpperTail(normalQuantile(1 - alpha / 4) / Math.sqrt(Math.min(1, t)))

const RULE = gaussLegendre(12)

/**
 * Nominal two-sided p values for looking at the data again and again: at look k a difference counts as seen where the
 * p value of its test is no more than the k-th. `information` holds the share of the planned information at each
 * look, rising, up to 1. Over all looks together the chance of a false alarm stays `alpha`.
 *
 * Spending function of Lan and DeMets, Biometrika 70 (1983) 659, in the form that follows O'Brien and Fleming,
 * 2 − 2Φ(z/√t) on each side: almost nothing is spent early. Bounds by integrating the running sum of independent normal steps
 * between its bounds look by look (Armitage, McPherson and Rowe, J. R. Statist. Soc. A 132 (1969) 235). Applied to t
 * tests by their p values, as Pocock did (Biometrika 64 (1977) 191): the level is then kept nearly, see the simulation
 * in the slow tests.
 */
export const nominalLevels = (information: readonly number[], alpha: number): number[] =>
  levelsBySpending(information, (_, t) => spentEarly(t, alpha))

/** The same for any way of spending: `spentBy` tells what may be spent up to a look, by its number from 0 and its share. */
export function levelsBySpending(
  information: readonly number[],
  spentBy: (look: number, share: number) => number,
): number[] {
  const levels: number[] = []
  let inside: Running = { at: [0], mass: [1] }
  let before = 0
  let alreadySpent = 0
  for (const [look, t] of information.entries()) {
    const step = t - before
    const allowed = spentBy(look, t) - alreadySpent
    if (!(step > 0) || !(allowed > 0)) {
      levels.push(0)
      continue
    }
    const sd = Math.sqrt(step)
    const outside = (bound: number): number => beyond(inside, sd, bound)
    // Logarithms keep the search steady where almost nothing may be spent.
    const off = (bound: number): number => Math.log(outside(bound)) - Math.log(allowed)
    let high = Math.sqrt(t)
    while (off(high) > 0) high *= 1.5
    const bound = findRoot(off, 0, high)
    levels.push(2 * normalUpperTail(bound / Math.sqrt(t)))
    inside = stepped(inside, sd, bound)
    before = t
    alreadySpent += allowed
  }
  return levels
}

/** The other way round: the chance of passing any of the bounds that belong to the two-sided `levels` of the looks. */
export function spentByLevels(information: readonly number[], levels: readonly number[]): number {
  let inside: Running = { at: [0], mass: [1] }
  let before = 0
  let spent = 0
  for (const [look, t] of information.entries()) {
    const sd = Math.sqrt(t - before)
    const bound = normalQuantile(1 - levels[look]! / 2) * Math.sqrt(t)
    spent += beyond(inside, sd, bound)
    inside = stepped(inside, sd, bound)
    before = t
  }
  return spent
}

/** The running sum where no bound was passed so far: places, and the chance at each. */
interface Running {
  readonly at: readonly number[]
  readonly mass: readonly number[]
}

/** Chance that it passes ± `bound` with one more step. */
const beyond = ({ at, mass }: Running, sd: number, bound: number): number =>
  at.reduce(
    (sum, s, i) => sum + mass[i]! * (normalUpperTail((bound - s) / sd) + normalUpperTail((bound + s) / sd)),
    0,
  )

/** The running sum's distribution after one more step, cut to what stays within ± bound. */
function stepped(inside: Running, sd: number, bound: number): Running {
  const panels = Math.max(2, Math.ceil(bound / sd))
  const half = bound / panels
  const at: number[] = []
  const mass: number[] = []
  for (let panel = 0; panel < panels; panel++) {
    const middle = -bound + (2 * panel + 1) * half
    for (let k = 0; k < RULE.nodes.length; k++) {
      const s = middle + half * RULE.nodes[k]!
      let density = 0
      for (let i = 0; i < inside.at.length; i++)
        density += (inside.mass[i]! * normalPdf((s - inside.at[i]!) / sd)) / sd
      at.push(s)
      mass.push(density * half * RULE.weights[k]!)
    }
  }
  return { at, mass }
}
