import { fine, type Outcome } from '../problem.ts'
import type { Gravity } from '../units/gravity.ts'
import { applyLoads } from './applied.ts'
import type { Warning } from './document.ts'
import type { LoadUnit } from './pointsDocument.ts'

export interface KnownLoad {
  readonly appliedN: number
  /** Tolerance, gravity and buoyancy together, as one standard uncertainty. */
  readonly standardN: number
  readonly warnings: readonly Warning[]
}

/** One mass or force by itself, as a check or a quick scale uses it. `tolerance` are limits ± in the load's unit. */
export function knownLoad(
  load: number,
  loadUnit: LoadUnit,
  tolerance: number | null,
  gravity: Gravity,
): Outcome<KnownLoad> {
  const row = {
    line: 0,
    load,
    loadUnit,
    stack: null,
    tolerance,
    densityKgM3: null,
    reading: 0,
    readingDecimals: 0,
    direction: null,
    cycle: null,
  }
  const applied = applyLoads('the load', [row], { gravity })
  if (!applied.ok) return applied
  const { points, doubts, warnings } = applied.value
  return fine({
    appliedN: points[0]!.appliedN,
    standardN: Math.hypot(...doubts.map(doubt => doubt.movesN[0]!)),
    warnings,
  })
}
