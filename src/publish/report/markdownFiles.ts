import { LOOKS, type LookName } from '../figure/look.ts'
import { SHAPES } from '../figure/shape.ts'
import { ahead } from './ahead.ts'
import type { Report } from './block.ts'
import { reportMarkdown } from './markdown.ts'

export interface MarkdownFilesOptions {
  /** Of the text: `report` makes `report.md`, and `report-figures` beside it. */
  readonly stem: string
  readonly look: LookName
  readonly toPng: (svg: string) => Uint8Array | Promise<Uint8Array>
  /** Told after each picture. */
  readonly onProgress?: (done: number, all: number) => void
}

/** A report as Markdown and its pictures in a folder beside it, one file after the other, the text last. */
export async function* markdownFiles(
  report: Report,
  { stem, look, toPng, onProgress }: MarkdownFilesOptions,
): AsyncGenerator<{ path: string; bytes: Uint8Array }> {
  const { text, figures, photos } = reportMarkdown(report, { folder: `${stem}-figures` })
  let done = 0
  const pictures = ahead(figures, async ({ path, figure }) => {
    const svg = figure.draw({ look: LOOKS[look], shape: SHAPES.page, prefix: figure.name })
    return { path, bytes: await toPng(svg) }
  })
  for await (const picture of pictures) {
    yield picture
    onProgress?.(++done, figures.length)
  }
  for (const { path, photo } of photos) yield { path, bytes: await photo.bytes() }
  yield { path: `${stem}.md`, bytes: new TextEncoder().encode(text) }
}
