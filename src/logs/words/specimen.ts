/**
 * Words for what is pulled, or for one pull of it, in several languages. Common usage of each, no single
 * source.
 */
export const SPECIMEN =
  /(?:specimen|sample|test|trial|pull|probe|prüfling|probekörper|probeta|muestra|éprouvette|essai|provino|prova|próbka|vzorek|minta|numune|образец|试样|試験片|run|coupon)/iu

/** `Specimen 2`, `# Probe: 7`: a title that numbers what follows, whose number is no reading. */
const NUMBERED_TITLE = new RegExp(
  `^\\W*${SPECIMEN.source}[\\p{L} _-]{0,20}[ #:;,=\\t._-]*\\d{1,4}\\W*$`,
  'iu',
)

export const isNumberedTitle = (text: string): boolean => NUMBERED_TITLE.test(text)
