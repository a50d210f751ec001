import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fontFace } from '../figure/embedFonts.ts'

/** The shipped fonts. Found by walking up, since the built code lies in another folder than its source. */
export function fontFiles(): string[] {
  let folder = dirname(fileURLToPath(import.meta.url))
  for (;;) {
    const fonts = join(folder, 'assets', 'fonts')
    const files = ['Regular', 'Bold'].map(weight => join(fonts, `AtkinsonHyperlegible-${weight}.ttf`))
    if (files.every(file => existsSync(file))) return files
    const up = dirname(folder)
    if (up === folder) throw new Error('the fonts in assets/fonts are missing: the installation is not whole')
    folder = up
  }
}

/**
 * The shipped fonts as CSS, their bytes inside: for pages that must open from disk and look the same
 * everywhere.
 */
export const fontFaces = (): string =>
  fontFiles()
    .map(file => fontFace(file.includes('Bold') ? 700 : 400, readFileSync(file).toString('base64')))
    .join('')
