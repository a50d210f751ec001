import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean, variance } from '../group/moments.ts'
import { type NumericFactor, numberIn, numericFactor } from './factor.ts'
import { type Looks, levelAtLook, pOverLooks } from './looks.ts'
import { measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { LEVEL } from './verdict.ts'

interface Group {
  readonly name: string
  readonly specimens: readonly Specimen[]
}

/**
 * The trend as one question of its own: at a look that is one of several its interval and its p are those of the level of this look, and its
 * standard error is the wider of two, that of one scatter for all groups and that of each group's own. A scatter that rises along the number would
 * else pass more false alarms than were planned. A single look, and one for which nothing is left to spend, keeps the plain regression.
 * `now`: specimens of each group.
 */
export function trendOverLooks(
  groups: readonly Group[],
  looks: Looks | null,
  now: number,
): NumericFactor | null {
  const factor = numericFactor(groups)
  const level = looks === null ? LEVEL : levelAtLook(LEVEL, looks, now, 1)
  if (factor === null || looks === null || !(level > 0)) return factor
  const { slope, df, t } = factor
  const error = Math.max(slope === 0 ? widthOf(factor) : Math.abs(slope / t), ownScatterError(groups))
  const half = tQuantile(1 - level / 2, df) * error
  return {
    ...factor,
    ci95: [slope - half, slope + half],
    p: pOverLooks(tTwoSided(slope / error, df), looks, now, 1),
  }
}

/** Standard error of a slope that is 0, which t does not tell. */
const widthOf = ({ ci95: [low, high], df }: NumericFactor): number =>
  (high - low) / 2 / tQuantile(1 - LEVEL / 2, df)

/**
 * Standard error of the least-squares slope where every group scatters in its own way: √Σ cᵢ² sᵢ²/nᵢ over the groups, cᵢ the weight of a group's
 * mean in the slope. A group of one value takes the scatter of the others.
 */
function ownScatterError(groups: readonly Group[]): number {
  const all = groups.map(g => ({ at: numberIn(g.name)!.at, values: valuesOf(measuredOf(g.specimens)) }))
  const n = all.reduce((sum, g) => sum + g.values.length, 0)
  const middle = all.reduce((sum, g) => sum + g.at * g.values.length, 0) / n
  const spread = all.reduce((sum, g) => sum + g.values.length * (g.at - middle) ** 2, 0)
  const known = all.filter(g => g.values.length > 1).map(g => variance(g.values))
  const others = known.length > 0 ? mean(known) : 0
  const squares = all.reduce(
    (sum, { at, values }) =>
      sum + (at - middle) ** 2 * values.length * (values.length > 1 ? variance(values) : others),
    0,
  )
  return Math.sqrt(squares) / spread
}
