import type { CurveLine } from '../parts/curve/types.ts'
import type { LoadedCurve } from './useOverlayCurves.ts'

/** Where curves are put together. */
export const ALIGNS = ['start', 'peak', 'break'] as const
export type Align = (typeof ALIGNS)[number]

export type Style = Pick<CurveLine, 'colour' | 'widthPx' | 'dashes'>

/** A line but for its looks; its points are moved once, not at every drawing of a thousand. */
export function plainLine(
  { id, along, forceN, origins }: LoadedCurve,
  align: Align,
  label: string,
): Omit<CurveLine, keyof Style> {
  let points: ReturnType<CurveLine['slice']> | null = null
  return {
    id,
    version: align,
    label,
    isComplete: true,
    slice() {
      points ??= { timeS: along.map(at => at - origins[align]), value: forceN }
      return points
    },
  }
}

/** The axis that holds all of them. */
export function wholeOf(curves: readonly LoadedCurve[], align: Align): { from: number; to: number } {
  let [from, to] = [0, 0]
  for (const { along, origins } of curves) {
    from = Math.min(from, (along[0] ?? 0) - origins[align])
    to = Math.max(to, (along.at(-1) ?? 0) - origins[align])
  }
  return to > from ? { from, to } : { from, to: from + 1 }
}
