/** The figures of a study: one pull explained, all specimens, the curves over one another, and what the rig is worth. */
export const FIGURES = ['pull', 'dots', 'overlay', 'weibull', 'calibration', 'check'] as const
export type FigureName = (typeof FIGURES)[number]
