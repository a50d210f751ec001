/**
 * The figures of a study: the whole answer, one pull explained, one among its kind, all specimens, the curves over one
 * another, and what the rig is worth.
 */
export const FIGURES = [
  'answer',
  'pull',
  'variant',
  'dots',
  'overlay',
  'weibull',
  'calibration',
  'check',
] as const
export type FigureName = (typeof FIGURES)[number]
