import { extname } from 'node:path'
import { type Outcome, wrong } from '../core/problem.ts'
import { writeWhole } from './files.ts'

/** Writes a figure as its file name asks: `.svg` as it is, `.png` drawn with the shipped fonts. */
export async function writeFigure(path: string, svg: string): Promise<Outcome<string>> {
  const kind = extname(path).toLowerCase()
  if (kind === '.svg') return writeWhole(path, svg)
  if (kind === '.png') {
    // The renderer is large: loaded only here.
    const { svgToPng } = await import('../publish/png.ts')
    return writeWhole(path, svgToPng(svg))
  }
  return wrong({
    where: path,
    what: 'a figure is written as .svg or .png.',
    cure: 'Give the file one of these endings.',
  })
}
