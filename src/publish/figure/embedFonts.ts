/** One weight of the shipped typeface as CSS, its bytes inside (a TrueType font as base64). */
export const fontFace = (weight: 400 | 700, base64: string): string =>
  `@font-face { font-family: 'Atkinson Hyperlegible'; font-weight: ${weight}; src: url(data:font/ttf;base64,${base64}); }\n`

/**
 * The figure with its typeface inside, so that it looks the same wherever it is opened. `fontFaces` are `@font-face`
 * rules with the bytes of the fonts in them. A picture made by the project's own renderer needs none.
 */
export const withFonts = (svg: string, fontFaces: string): string =>
  svg.replace('<title>', `<style>${fontFaces}</style><title>`)
