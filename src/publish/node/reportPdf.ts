import { fine, type Outcome } from '../../core/problem.ts'
import type { Report } from '../report/block.ts'
import { reportHtml } from '../report/html.ts'
import { fontFaces } from './assets.ts'
import { drawPdf } from './drawPdf.ts'
import { findBrowser } from './findBrowser.ts'
import { printPdf } from './printPdf.ts'

/** A report as PDF: printed by a browser where this computer has one, else drawn by ourselves, a little plainer. */
export async function reportPdf(
  report: Report,
  {
    madeAt,
    env,
    signal,
  }: { madeAt: string; env: Readonly<Record<string, string | undefined>>; signal?: AbortSignal },
): Promise<Outcome<Uint8Array>> {
  const browser = findBrowser(env)
  if (browser === null) return fine(await drawPdf(report, madeAt))
  const html = await reportHtml(report, { look: 'print', fontFaces: fontFaces(), isForPaper: true })
  return printPdf(html, browser, signal === undefined ? {} : { signal })
}
