/** A tick's value carries the rounding of the scale that made it: digits past these are none of the value's. */
const DIGITS = 12

/** A value at an axis, as short as it can be and still read back as that value; no grouping, no exponent. */
export function axisText(value: number): string {
  const rounded = Number(value.toPrecision(DIGITS))
  const short = String(rounded)
  const text = short.includes('e') && Math.abs(rounded) < 1 ? rounded.toFixed(20).replace(/0+$/, '') : short
  return Number(text) === 0 ? '0' : text.replace('-', '−')
}
