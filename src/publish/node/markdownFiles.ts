import { basename, extname } from 'node:path'
import { LOOKS, type LookName } from '../figure/look.ts'
import { SHAPES } from '../figure/shape.ts'
import type { Report } from '../report/block.ts'
import { reportMarkdown } from '../report/markdown.ts'
import { svgToPng } from './png.ts'

/** A report as Markdown and its pictures in a folder beside it, one file after the other, the text last. */
export async function* markdownFiles(
  report: Report,
  name: string,
  look: LookName,
): AsyncGenerator<{ path: string; bytes: Uint8Array }> {
  const folder = `${basename(name, extname(name))}-figures`
  const { text, figures, photos } = reportMarkdown(report, { folder })
  for (const { path, figure } of figures) {
    const svg = figure.draw({ look: LOOKS[look], shape: SHAPES.page, prefix: figure.name })
    yield { path, bytes: svgToPng(svg) }
  }
  for (const { path, photo } of photos) yield { path, bytes: await photo.bytes() }
  yield { path: basename(name), bytes: new TextEncoder().encode(text) }
}
