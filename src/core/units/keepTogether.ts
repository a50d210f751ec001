const UNITS = 'N/mm|N|kN|mN|MN|MPa|kgf|kg|gf|g|tf|lbf|lb|ozf|oz|kip|J|mJ|mm|cm|m|s|ms|min|h|Hz|kHz|%|°C|dB|px'

const BEFORE_UNIT = new RegExp(`(?<=\\d) (?=(?:${UNITS})(?![\\p{L}\\p{N}]))`, 'gu')

/** A text in which no line breaks between a number and its unit, or before and after a ±. */
export const keepTogether = (text: string): string =>
  text.replace(BEFORE_UNIT, '\u00a0').replace(/(?<=\S) ± (?=\S)/g, '\u00a0±\u00a0')
