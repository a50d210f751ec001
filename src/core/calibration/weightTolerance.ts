/** Accuracy classes of bought weights. */
export const WEIGHT_CLASSES = ['F1', 'F2', 'M1', 'M2', 'M3'] as const
export type WeightClass = (typeof WEIGHT_CLASSES)[number]

/**
 * Greatest permissible errors in mg (OIML R 111-1:2004, table 1), for one weight of the nominal value, in the order of
 * the classes. M1 to M3 as repeated in the Greek law on weights in trade (article 146), 1 g to 5 kg also, with F1 and F2, in a
 * maker's table; F1 and F2 of 10 kg and more from memory.
 */
// biome-ignore format: a table reads better in rows
const PERMISSIBLE_MG: ReadonlyMap<number, readonly number[]> = new Map([
  [0.001, [0.1, 0.3, 1, 3, 10]],
  [0.002, [0.12, 0.4, 1.2, 4, 12]],
  [0.005, [0.16, 0.5, 1.6, 5, 16]],
  [0.01, [0.2, 0.6, 2, 6, 20]],
  [0.02, [0.25, 0.8, 2.5, 8, 25]],
  [0.05, [0.3, 1, 3, 10, 30]],
  [0.1, [0.5, 1.6, 5, 16, 50]],
  [0.2, [1, 3, 10, 30, 100]],
  [0.5, [2.5, 8, 25, 80, 250]],
  [1, [5, 16, 50, 160, 500]],
  [2, [10, 30, 100, 300, 1_000]],
  [5, [25, 80, 250, 800, 2_500]],
  [10, [50, 160, 500, 1_600, 5_000]],
  [20, [100, 300, 1_000, 3_000, 10_000]],
  [50, [250, 800, 2_500, 8_000, 25_000]],
])

/** Limits ± in kg of one weight of `kg`; `null` where the class has no such weight (they go 1, 2, 5, 10 …). */
export function permissibleErrorKg(kg: number, weightClass: WeightClass): number | null {
  for (const [nominal, limits] of PERMISSIBLE_MG) {
    if (Math.abs(kg - nominal) < 1e-9) return limits[WEIGHT_CLASSES.indexOf(weightClass)]! * 1e-6
  }
  return null
}
