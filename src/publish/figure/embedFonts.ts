/**
 * The figure with its typeface inside, so that it looks the same wherever it is opened. `fontFaces` are `@font-face`
 * rules with the bytes of the fonts in them. A picture made by the project's own renderer needs none.
 */
export const withFonts = (svg: string, fontFaces: string): string =>
  svg.replace('<title>', `<style>${fontFaces}</style><title>`)
