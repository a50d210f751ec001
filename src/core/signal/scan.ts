/**
 * The few ways in which a whole record is gone through, each written once: a long loop runs at full speed only after
 * the engine has compiled it, which every further loop would wait for anew. Loops keep places, not values, from one
 * turn to the next where they can: a value that is kept is put on the heap at every turn when the engine takes over
 * in the midst of the loop.
 */

/**
 * A long way is gone in so many short ones, each a call of its own: such a call is compiled on its own and keeps its
 * values in registers, which a loop that is taken over in its midst does not.
 */
export const AT_ONCE = 8192

/**
 * First sample in [from, to) that lies more than `riseMost` above the one before it, or more than `fallMost` below;
 * `to` where there is none. `from` must be 1 or more.
 */
export function nextStep(
  values: Float64Array,
  from: number,
  to: number,
  riseMost: number,
  fallMost: number,
): number {
  for (let a = from; a < to; a += AT_ONCE) {
    const end = Math.min(to, a + AT_ONCE)
    const at = stepIn(values, a, end, riseMost, -fallMost)
    if (at < end) return at
  }
  return to
}

function stepIn(values: Float64Array, from: number, to: number, highest: number, lowest: number): number {
  for (let i = from; i < to; i++) {
    const step = values[i]! - values[i - 1]!
    if (step > highest || step < lowest) return i
  }
  return to
}

/** Least and greatest value of [from, to); infinities the wrong way round where it is empty. */
export function reachOf(values: Float64Array, from: number, to: number): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  for (let a = from; a < to; a += AT_ONCE) {
    const part = reachIn(values, a, Math.min(to, a + AT_ONCE))
    if (part.low < low) low = part.low
    if (part.high > high) high = part.high
  }
  return { low, high }
}

function reachIn(values: Float64Array, from: number, to: number): { low: number; high: number } {
  let low = values[from]!
  let high = low
  for (let i = from + 1; i < to; i++) {
    const value = values[i]!
    if (value < low) low = value
    if (value > high) high = value
  }
  return { low, high }
}

/** First sample in [from, to) of a value or more; `to` where there is none. */
export function nextFrom(values: Float64Array, from: number, to: number, value: number): number {
  let at = from
  while (at < to && !(values[at]! >= value)) at++
  return at
}

/** The first place of the greatest value in [from, to); `from` where it is empty. */
export function greatestAt(values: Float64Array, from: number, to: number): number {
  let at = from
  for (let a = from; a < to; a += AT_ONCE) {
    const best = greatestIn(values, a, Math.min(to, a + AT_ONCE))
    if (values[best]! > values[at]!) at = best
  }
  return at
}

function greatestIn(values: Float64Array, from: number, to: number): number {
  let at = from
  for (let i = from + 1; i < to; i++) if (values[i]! > values[at]!) at = i
  return at
}

/** Sum over [from, to), in order. */
export function sumOf(values: Float64Array, from: number, to: number): number {
  let sum = 0
  for (let i = from; i < to; i++) sum += values[i]!
  return sum
}
