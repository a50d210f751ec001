import { buildPyramid, sliceForDisplay, type Thinned } from './pyramid.ts'

/**
 * A whole record thinned once to a width in pixels, as for a figure: at most about four points a pixel, every extreme
 * among them. Where the same record is drawn again and again, keep its pyramid instead.
 */
export const thinned = (
  timeS: Float64Array,
  values: Float64Array,
  pixels: number,
  gaps: readonly { readonly fromS: number; readonly toS: number }[] = [],
): Thinned =>
  sliceForDisplay(buildPyramid(timeS, values, gaps), timeS[0] ?? 0, timeS.at(-1) ?? 0, Math.max(1, pixels))
