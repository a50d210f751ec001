import type { OpenStudy } from '../data/backend.ts'

/** The unit of force that most of the logs have. */
export function peakUnitOf(opens: readonly OpenStudy[]): string | undefined {
  const counts = new Map<string, number>()
  for (const { recordings } of opens)
    for (const { forceUnit } of recordings)
      if (forceUnit !== null) counts.set(forceUnit, (counts.get(forceUnit) ?? 0) + 1)
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0]
}
