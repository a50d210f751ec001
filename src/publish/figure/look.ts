/** Sizes of type, in px of the figure. */
export interface TypeSizes {
  readonly numeral: number
  readonly heading: number
  readonly label: number
  readonly small: number
}

/** Paper and ink of the bench notebook: the colours, line patterns and type of every figure. */
export interface Look {
  readonly paper: string
  readonly ink: string
  /** Second words: axis labels, notes. At least 4.5 : 1 on paper. */
  readonly pencil: string
  /** Raw readings and other faint lines that still carry meaning. At least 3 : 1 on paper. */
  readonly faint: string
  /** Lines that only decorate. */
  readonly rule: string
  readonly accent: string
  readonly warning: string
  /**
   * One for each variant in turn; told apart by dashes first. At least 4.5 : 1 on paper, and far enough from one another
   * for the usual colour vision deficiencies (a test simulates them).
   */
  readonly variants: readonly string[]
  readonly size: TypeSizes
}

/** On a page of text, where a figure is 960 px wide. */
export const PAGE_SIZES: TypeSizes = { numeral: 32, heading: 20, label: 14, small: 12 }

export const LIGHT: Look = {
  paper: '#faf8f2',
  ink: '#20242a',
  pencil: '#5a6068',
  faint: '#898c8d',
  rule: '#e0ded9',
  accent: '#1f4e8c',
  warning: '#a8431a',
  variants: ['#1f4e8c', '#a8431a', '#1a7365', '#9f3dbf', '#413b13', '#20242a'],
  size: PAGE_SIZES,
}

export const DARK: Look = {
  paper: '#12161b',
  ink: '#ece8dc',
  pencil: '#a9abab',
  faint: '#767b80',
  rule: '#2c3035',
  accent: '#8db4f0',
  warning: '#f0a36b',
  variants: ['#8db4f0', '#f0a36b', '#36a089', '#bc54d8', '#b89e2a', '#ece8dc'],
  size: PAGE_SIZES,
}

/** For white paper and a printer that may know black alone: told apart by dashes, and by lightness where it greys. */
export const PRINT: Look = {
  paper: '#ffffff',
  ink: '#000000',
  pencil: '#404040',
  faint: '#808080',
  rule: '#d9d9d9',
  accent: '#12396b',
  warning: '#8a3210',
  variants: ['#12396b', '#a8431a', '#2c7668', '#9755b6', '#342b08', '#000000'],
  size: PAGE_SIZES,
}

export const LOOKS = { light: LIGHT, dark: DARK, print: PRINT } as const
export type LookName = keyof typeof LOOKS

/** Dash pattern of each variant in turn (SVG stroke-dasharray; `''` is unbroken). */
export const VARIANT_DASHES = ['', '7 3', '2 3', '11 3 2 3', '5 2 5 6', '14 4'] as const

/** The n-th variant's line: after six the pairs of dash and colour go on without repeating soon. */
export function variantLine(look: Look, index: number): { colour: string; dashes: string } {
  const dashes = VARIANT_DASHES[index % VARIANT_DASHES.length] ?? ''
  const turn = index + Math.floor(index / VARIANT_DASHES.length)
  return { colour: look.variants[turn % look.variants.length] ?? look.ink, dashes }
}

export const FONT_FAMILY = "'Atkinson Hyperlegible', 'Helvetica Neue', Arial, sans-serif"
