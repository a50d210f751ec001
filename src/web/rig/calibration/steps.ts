import type { Mass } from '../../../core/calibration/references.ts'

/** One load of a calibration: what hangs, and whether the load was growing. */
export interface Step {
  /** Names of what hangs; none: the empty hook. */
  readonly hang: readonly string[]
  readonly direction: 'up' | 'down'
  readonly cycle: number
}

/** Up to so many masses every combination is a load of its own; of more, one is added to the others at a time. */
const MOST_COMBINED = 3
/** Loads closer than this share tell nothing apart. */
const SAME = 0.02

/**
 * The loads of one cycle in their order: the empty hook, up by weight, and down again to the empty hook, so that what
 * the rig keeps back on the way down shows too.
 */
export function stepsFor(masses: readonly Mass[], cycle = 1): Step[] {
  const loads = loadsOf([...masses].sort((a, b) => a.kg - b.kg))
  const up = [[], ...loads].map((hang): Step => ({ hang, direction: 'up', cycle }))
  const down = [...loads.slice(0, -1).reverse(), []].map((hang): Step => ({ hang, direction: 'down', cycle }))
  return loads.length === 0 ? [] : [...up, ...down]
}

function loadsOf(sorted: readonly Mass[]): string[][] {
  const stacks =
    sorted.length <= MOST_COMBINED
      ? combinations(sorted).sort((a, b) => weightOf(a) - weightOf(b))
      : sorted.map((_, i) => sorted.slice(0, i + 1))
  return stacks
    .filter((stack, i) => i === 0 || weightOf(stack) > (1 + SAME) * weightOf(stacks[i - 1]!))
    .map(stack => stack.map(({ name }) => name))
}

const weightOf = (stack: readonly Mass[]): number => stack.reduce((sum, { kg }) => sum + kg, 0)

/** Every stack that can be made of them. */
function combinations(masses: readonly Mass[]): Mass[][] {
  const stacks: Mass[][] = []
  for (const mass of masses) stacks.push(...stacks.map(stack => [...stack, mass]), [mass])
  return stacks
}
