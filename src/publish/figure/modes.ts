import type { Comparison } from '../../core/statistics/document.ts'

/** The ways of failing in the order in which they are met; each has its shape of mark, in every figure of a study. */
export const modesOf = ({ specimens }: Comparison): (string | null)[] => [
  ...new Set(specimens.map(({ mode }) => mode)),
]
