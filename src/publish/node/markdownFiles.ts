import { basename, extname } from 'node:path'
import type { LookName } from '../figure/look.ts'
import type { Report } from '../report/block.ts'
import { markdownFiles as filesOf } from '../report/markdownFiles.ts'
import { opaquePng } from './opaquePng.ts'

/** A figure of 960 px becomes a picture of 1440: twice the width of a blog's column of text. */
const SCALE = 1.5

/** A report as Markdown, its pictures made by our own renderer; `name` is that of the text. */
export const markdownFiles = (
  report: Report,
  name: string,
  look: LookName,
): AsyncGenerator<{ path: string; bytes: Uint8Array }> =>
  filesOf(report, {
    stem: basename(name, extname(name)),
    look,
    toPng: svg => opaquePng(svg, { scale: SCALE }),
  })
