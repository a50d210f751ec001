/** Different readings that it takes to tell a display of steps of 2 or 5 from chance (2⁻⁸). */
const ENOUGH = 8

/** Decimals past which readings are averages or computed, not a display's. */
const MOST_DECIMALS = 6

/**
 * The step between readings, from the readings themselves: 1, 2 or 5 units of their last decimal, 2 or 5 only where many
 * different readings all keep to it. `decimals` are those written in the file (`20.00` has two); found from the numbers
 * where not given. `null` where there are too many to be a display's.
 */
export function readingStep(readings: readonly number[], decimals?: number): number | null {
  // 0.1 + 0.2 is not 0.3: the last digits of a double are no decimals of the display.
  const written = [...new Set(readings.map(r => Number(r.toPrecision(12))))]
  const places = decimals ?? written.reduce((most, r) => Math.max(most, decimalsOf(r)), 0)
  if (places > MOST_DECIMALS || written.length < 2) return null
  const units = written.map(r => Math.round(r * 10 ** places))
  const multiple = units.length < ENOUGH ? 1 : ([5, 2].find(m => units.every(u => u % m === 0)) ?? 1)
  return multiple / 10 ** places
}

function decimalsOf(value: number): number {
  const [digits = '', exponent = '0'] = String(value).split('e')
  return Math.max(0, (digits.split('.')[1]?.length ?? 0) - Number(exponent))
}
