import { farthest, grubbsCritical } from './grubbs.ts'
import type { Suspect } from './suspect.ts'

/** Fewer values than this make the test's critical values unsure (Rosner 1983; e-Handbook 1.3.5.17.3). */
export const LEAST_FOR_ESD = 15

/** One step: the farthest value of what was left, against its critical value. */
export interface EsdStep {
  readonly index: number
  readonly value: number
  readonly statistic: number
  readonly critical: number
}

/**
 * Rosner's generalized extreme Studentized deviate test for up to `most` outliers (Rosner 1983, Technometrics 25:165;
 * e-Handbook 1.3.5.17.3): take the farthest value off, `most` times; the last step whose statistic exceeds its critical
 * value, and all before it, are suspects. So two that hide each other are still found.
 */
export function esdSteps(values: ArrayLike<number>, most: number, alpha = 0.05): readonly EsdStep[] {
  const left = Array.from(values, (value, index) => ({ value, index }))
  const steps: EsdStep[] = []
  while (steps.length < most) {
    const far = farthest(left.map(l => l.value))
    if (far === null) break
    const critical = grubbsCritical(left.length, alpha)
    const [taken] = left.splice(far.index, 1)
    steps.push({ ...taken!, statistic: far.statistic, critical })
  }
  return steps
}

/** The suspects of the test, the farthest first. */
export function generalizedEsd(values: ArrayLike<number>, most: number, alpha = 0.05): readonly Suspect[] {
  const steps = esdSteps(values, most, alpha)
  const count = steps.findLastIndex(s => s.statistic > s.critical) + 1
  return steps.slice(0, count).map(step => ({ ...step, test: 'generalized ESD' }))
}
