import { applyLoads } from '../../../core/calibration/applied.ts'
import type { KnownLoad } from '../../../core/calibration/knownLoad.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig } from '../../../core/calibration/rig.ts'
import { gravityOf } from '../../../core/calibration/rigFacts.ts'
import { fine, type Outcome } from '../../../core/problem.ts'

/** The force with which one mass pulls where the rig stands, and how well it is known. */
export function hung(mass: Mass, rig: Rig): Outcome<KnownLoad> {
  const row = { line: 0, load: null, loadUnit: null, stack: mass.name, tolerance: null, densityKgM3: null }
  const applied = applyLoads(
    mass.name,
    [{ ...row, reading: 0, readingDecimals: 0, direction: null, cycle: null }],
    { gravity: gravityOf(rig), references: new Map([[mass.name, mass]]) },
  )
  if (!applied.ok) return applied
  const { points, doubts, warnings } = applied.value
  return fine({
    appliedN: points[0]!.appliedN,
    standardN: Math.hypot(...doubts.map(({ movesN }) => movesN[0]!)),
    warnings,
  })
}
