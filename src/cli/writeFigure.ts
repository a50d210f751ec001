import { extname } from 'node:path'
import { InvalidArgumentError } from 'commander'
import type { Outcome } from '../core/problem.ts'
import { writeWhole } from './files.ts'

/** For `--figure`: the ending says what is drawn, so a wrong one is told before any work is done. */
export function figureFile(path: string): string {
  if (!['.svg', '.png'].includes(extname(path).toLowerCase())) {
    throw new InvalidArgumentError('A figure is written as .svg or .png: give the file one of these endings.')
  }
  return path
}

/** Writes a figure as its file name asks: `.svg` as it is, `.png` drawn with the shipped fonts. */
export async function writeFigure(path: string, svg: string): Promise<Outcome<string>> {
  if (extname(path).toLowerCase() === '.svg') return writeWhole(path, svg)
  // The renderer is large: loaded only here.
  const { svgToPng } = await import('../publish/node/png.ts')
  return writeWhole(path, svgToPng(svg))
}
