/**
 * |t| of the greatest split of so many values that a healthy series passes on one value in 400, of those not told of before:
 * simulated by `npm run bench changeLimits` (seed 21).
 */
export const CHANGE_LIMITS: readonly (readonly [count: number, limit: number])[] = [
  [5, 15.24],
  [6, 9.98],
  [7, 7.82],
  [8, 6.73],
  [9, 6.12],
  [10, 5.65],
  [12, 5.1],
  [15, 4.64],
  [20, 4.25],
  [25, 4.05],
  [30, 3.92],
  [40, 3.78],
  [50, 3.71],
  [70, 3.61],
  [100, 3.55],
  [120, 3.55],
]
