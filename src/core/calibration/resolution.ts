/**
 * The step between readings, from the readings themselves: the greatest step of which all are whole multiples, to the
 * decimals that they carry. `null` where they share none within reason (averages with many decimals).
 */
export function readingStep(readings: readonly number[]): number | null {
  // 0.1 + 0.2 is not 0.3: the last digits of a double are no decimals of the display.
  const written = readings.map(r => Number(r.toPrecision(12)))
  const decimals = written.reduce((most, r) => Math.max(most, decimalsOf(r)), 0)
  if (decimals > 6) return null
  const whole = written.map(r => Math.round(Math.abs(r) * 10 ** decimals)).filter(r => r > 0)
  if (whole.length < 2 || whole.some(r => !Number.isSafeInteger(r))) return null
  return whole.reduce(greatestCommonDivisor) / 10 ** decimals
}

const greatestCommonDivisor = (a: number, b: number): number => {
  let [x, y] = [a, b]
  while (y > 0) [x, y] = [y, x % y]
  return x
}

function decimalsOf(value: number): number {
  const [digits = '', exponent = '0'] = String(value).split('e')
  return Math.max(0, (digits.split('.')[1]?.length ?? 0) - Number(exponent))
}
