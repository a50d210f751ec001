import type { ColumnView } from './columnView.ts'

/**
 * How far a step of a clock may be from the middle one, of it: loops of a small board are no more even than
 * this.
 */
const UNEVEN = 0.4
/** And how many steps must be so even. */
const EVEN_SHARE = 0.9
const MOST_STEPS = 5000
/** So few steps, of the first lines of a stream, tell nothing against a clock. */
const FEWEST_STEPS = 5

/**
 * Whether a rising column steps as a clock does: by about the same from each of its values to the next, rows
 * that share a value left aside. A travel at one speed does so too; one that follows a hand or a stiffening
 * specimen does not.
 */
export function stepsLikeClock({ column }: ColumnView, rows: number): boolean {
  const steps: number[] = []
  let least = Number.POSITIVE_INFINITY
  for (let i = 1; i < rows && steps.length < MOST_STEPS; i++) {
    const step = column.values[i]! - column.values[i - 1]!
    if (!(step > 0)) continue
    steps.push(step)
    if (step < least) least = step
  }
  if (steps.length < FEWEST_STEPS) return true
  const middle = [...steps].sort((a, b) => a - b)[steps.length >> 1] ?? 0
  // Stamps rounded coarsely step by one or two of their last digit.
  const within = Math.max(UNEVEN * middle, 1.01 * least)
  return steps.filter(step => Math.abs(step - middle) <= within).length >= EVEN_SHARE * steps.length
}
