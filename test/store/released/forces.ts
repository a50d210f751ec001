/**
 * Forces of the recordings in the stores of this folder: a pull, numbers at the ends of what a number holds,
 * and a long one.
 */
export const FORCES: readonly (readonly number[])[] = [
  [0, 12.5, 68.21, 3],
  [-0, 1e-300, 1.7976931348623157e308, 0.1 + 0.2, -17.25],
  Array.from({ length: 3000 }, (_, i) => Math.round(400 * Math.sin(i / 300)) / 100),
]
