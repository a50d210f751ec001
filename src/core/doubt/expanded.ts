import { tQuantile } from '../statistics/distributions/t.ts'

/** One independent part of a doubt, already in the unit of the result. */
export interface Part {
  readonly standard: number
  readonly df: number
}

export interface Expanded {
  readonly standard: number
  /** Effective degrees of freedom; ∞ where every part is known. */
  readonly df: number
  /** Coverage factor. */
  readonly k: number
  readonly expanded: number
}

/** Effective degrees of freedom, u⁴ / Σ u_i⁴/ν_i (Welch–Satterthwaite; GUM G.4.1, equation G.2b). */
export function effectiveDf(parts: readonly Part[]): number {
  // In shares of the greatest, so that no fourth power runs over or under.
  const most = parts.reduce((m, { standard }) => Math.max(m, standard), 0)
  if (most === 0) return Infinity
  const square = parts.reduce((sum, { standard }) => sum + (standard / most) ** 2, 0)
  const below = parts.reduce((sum, { standard, df }) => sum + (standard / most) ** 4 / df, 0)
  return below > 0 ? square ** 2 / below : Infinity
}

/** t that a share `coverage` of results keeps within on both sides (GUM table G.2). Fractions of a degree are kept. */
export const coverageFactor = (df: number, coverage = 0.95): number => tQuantile(1 - (1 - coverage) / 2, df)

/** Independent parts combined and widened to the coverage asked (GUM 5.1.2, 6.2 and G.4). */
export function expand(parts: readonly Part[], coverage = 0.95): Expanded {
  const standard = Math.hypot(...parts.map(part => part.standard))
  const df = effectiveDf(parts)
  const k = coverageFactor(df, coverage)
  return { standard, df, k, expanded: k * standard }
}
