/** A chart of single values against limits from their own moving range. */
export interface CheckChart {
  readonly values: readonly number[]
  readonly centre: number
  /** Three standard deviations below and above the centre. */
  readonly low: number
  readonly high: number
  /** How many of the first values the limits come from. */
  readonly from: number
}

/** Fewest checks that limits may come from, and the most that are used. */
const LEAST = 6
const MOST = 20

/** Checks in a row on one side of the centre that tell of a drift (Western Electric rules, 1956; from memory). */
export const RUN_LENGTH = 8

/** Mean range of two normal values in sds: 2/√π (Shewhart's d2 for n = 2; Montgomery, Statistical Quality Control). */
const D2 = 2 / Math.sqrt(Math.PI)

/**
 * Shewhart's chart of individual values: centre ± 3 mean moving range/1.128, from the first 6 to 20 of the values that were
 * `sound` (the newest is to be judged, so it is never among them); `null` with fewer than 6. `floor` is the smallest sd that
 * the values can honestly have (their own reading doubt).
 */
export function checkChart(
  earlier: readonly { readonly value: number; readonly sound: boolean }[],
  newest: number,
  floor: number,
): CheckChart | null {
  const base = earlier
    .filter(({ sound }) => sound)
    .slice(0, MOST)
    .map(({ value }) => value)
  if (base.length < LEAST) return null
  const centre = base.reduce((sum, v) => sum + v / base.length, 0)
  const ranges = base.slice(1).map((v, i) => Math.abs(v - base[i]!))
  const sd = Math.max(floor, ranges.reduce((sum, r) => sum + r / ranges.length, 0) / D2)
  return {
    values: [...earlier.map(({ value }) => value), newest],
    centre,
    low: centre - 3 * sd,
    high: centre + 3 * sd,
    from: base.length,
  }
}

/** Whether the last values all lie on one side of the centre, for long enough to mean a drift. */
export function driftsAway({ values, centre }: CheckChart): boolean {
  const last = values.slice(-RUN_LENGTH)
  return last.length === RUN_LENGTH && (last.every(v => v > centre) || last.every(v => v < centre))
}
