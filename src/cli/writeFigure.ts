import { extname } from 'node:path'
import { InvalidArgumentError } from 'commander'
import type { Outcome } from '../core/problem.ts'
import { writeWhole } from './files.ts'

/** For `--figure`: the ending says what is drawn, so a wrong one is told before any work is done. */
export function figureFile(path: string): string {
  if (path !== '-' && !['.svg', '.png'].includes(extname(path).toLowerCase())) {
    throw new InvalidArgumentError('A figure is written as .svg or .png: give the file one of these endings.')
  }
  return path
}

/**
 * Writes a figure as its file name asks: `.svg` (and standard output, `-`) with or without its typeface inside, `.png` drawn with the shipped one,
 * `scale` device pixels to a px of the figure.
 */
export async function writeFigure(
  path: string,
  svg: string,
  { scale = 2, fonts = false }: { scale?: number; fonts?: boolean } = {},
): Promise<Outcome<string>> {
  if (path === '-' || extname(path).toLowerCase() === '.svg') {
    if (!fonts) return writeWhole(path, svg)
    const { fontFaces } = await import('../publish/node/assets.ts')
    const { withFonts } = await import('../publish/figure/embedFonts.ts')
    return writeWhole(path, withFonts(svg, fontFaces()))
  }
  // The renderer is large: loaded only here.
  const { svgToPng } = await import('../publish/node/png.ts')
  return writeWhole(path, svgToPng(svg, { scale }))
}
