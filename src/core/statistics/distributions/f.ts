import { betaCdf, betaQuantile, betaUpperQuantile, betaUpperTail } from './beta.ts'

/** P(F ≤ f) of the F distribution (Abramowitz and Stegun 26.6.2). */
export function fCdf(f: number, df1: number, df2: number): number {
  if (f <= 0) return 0
  const part = df1 * f
  if (part === Infinity) return 1
  return part < df2
    ? betaCdf(part / (part + df2), df1 / 2, df2 / 2)
    : betaUpperTail(df2 / (part + df2), df2 / 2, df1 / 2)
}

/** P(F > f): the upper tail, from which p-values come. */
export function fUpperTail(f: number, df1: number, df2: number): number {
  if (f <= 0) return 1
  const part = df1 * f
  if (part === Infinity) return 0
  return part < df2
    ? betaUpperTail(part / (part + df2), df1 / 2, df2 / 2)
    : betaCdf(df2 / (part + df2), df2 / 2, df1 / 2)
}

/** f with P(F ≤ f) = p. */
export function fQuantile(p: number, df1: number, df2: number): number {
  if (p === 0) return 0
  if (p === 1) return Infinity
  const share = betaQuantile(p, df1 / 2, df2 / 2) // df1 f/(df1 f + df2)
  if (share <= 0.5) return (df2 * share) / (df1 * (1 - share))
  const rest = betaUpperQuantile(p, df2 / 2, df1 / 2)
  return (df2 * (1 - rest)) / (df1 * rest)
}
