import type { ClipSize } from '../../../publish/clip/overlayJob.ts'
import { shapesSvg } from '../../../publish/clip/shapesSvg.ts'
import { type Walk, walkDescription, walkShapes } from '../../../publish/clip/walkShapes.ts'
import { withFonts } from '../../../publish/figure/embedFonts.ts'
import { DARK, LIGHT } from '../../../publish/figure/look.ts'
import { SHAPES } from '../../../publish/figure/shape.ts'
import type { PackageFile } from '../../../publish/package/files.ts'
import { slug } from '../../../publish/package/slugs.ts'
import { zipOf } from '../../../publish/package/zip/zipOf.ts'
import { markdownFiles } from '../../../publish/report/markdownFiles.ts'
import { reportOf } from '../../../publish/report/report.ts'
import type { PublishedStudy } from '../../../publish/study/study.ts'
import { fontFaces } from './fonts.ts'
import type { OnProgress, ToPng } from './types.ts'

/** Files as one zip, as they are made. */
export async function zipped(files: AsyncIterable<PackageFile>, madeAt: string): Promise<Blob> {
  const pieces: Uint8Array<ArrayBuffer>[] = []
  for await (const piece of zipOf(files, madeAt)) pieces.push(piece.slice())
  return new Blob(pieces, { type: 'application/zip' })
}

export const markdownZip = (study: PublishedStudy, toPng: ToPng, onProgress: OnProgress): Promise<Blob> =>
  zipped(
    markdownFiles(reportOf(study), {
      stem: 'report',
      look: 'light',
      toPng: svg => toPng(withFonts(svg, fontFaces()), SHAPES.page.pngScale),
      onProgress,
    }),
    study.madeAt,
  )

/** A picture for each step of a walk, and the sentences. */
export const walkZip = (
  walk: Walk,
  { width, height, dark }: ClipSize,
  { toPng, onProgress, madeAt }: { toPng: ToPng; onProgress: OnProgress; madeAt: string },
): Promise<Blob> => {
  const look = dark ? DARK : LIGHT
  async function* files(): AsyncGenerator<PackageFile> {
    const stem = slug(walk.track.name, 'specimen')
    const lines: string[] = []
    for (const [i, { kind, sentence }] of walk.steps.entries()) {
      const svg = shapesSvg(
        walkShapes(walk, i, { width, height, look }),
        { x: 0, y: 0, width, height },
        { title: sentence, description: walkDescription(walk, i) },
      )
      const path = `${stem}-${String(i + 1).padStart(2, '0')}-${kind}.png`
      yield { path, bytes: await toPng(withFonts(svg, fontFaces()), 1) }
      lines.push(`${path}\t${sentence}\n`)
      onProgress(i + 1, walk.steps.length)
    }
    yield { path: 'steps.txt', bytes: new TextEncoder().encode(lines.join('')) }
  }
  return zipped(files(), madeAt)
}
