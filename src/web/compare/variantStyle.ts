import { DARK, LIGHT, variantLine } from '../../publish/figure/look.ts'

/** Colour and dashes of the n-th variant, the same as in the figures, in the theme that the page has now. */
export function variantStyle(index: number): { colour: string; dashes: string } {
  const dark = document.documentElement.dataset.theme === 'dark'
  return variantLine(dark ? DARK : LIGHT, index)
}
