import type { Check } from '../core/calibration/checkDocument.ts'
import { fine, type Outcome } from '../core/problem.ts'
import type { Store } from '../store/index.ts'

/** Puts the daily checks of a rig into the store; those that are there already are not kept twice. */
export async function keepChecks(
  store: Store,
  rigId: string,
  checks: readonly Check[],
): Promise<Outcome<null>> {
  const known = new Set((await store.checks.list(rigId)).map(({ document }) => JSON.stringify(document)))
  for (const check of checks) {
    if (known.has(JSON.stringify(check))) continue
    const saved = await store.checks.save({ rigId, calibrationId: null, madeAt: check.at, document: check })
    if (!saved.ok) return saved
  }
  return fine(null)
}
