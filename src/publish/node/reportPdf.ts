import { fine, type Outcome } from '../../core/problem.ts'
import type { Report } from '../report/block.ts'
import { reportHtml } from '../report/html.ts'
import { fontFaces } from './assets.ts'
import { findBrowser } from './findBrowser.ts'
import { drawPdf } from './pdf/drawPdf.ts'
import { isDrawable } from './pdf/isDrawable.ts'
import { printPdf } from './printPdf.ts'

/**
 * A report as PDF, drawn by ourselves. Only where it says something in letters that the shipped typeface
 * lacks, or has a photo that a PDF cannot take in, a browser prints it, if this computer has one: that takes
 * some seconds more.
 */
export async function reportPdf(
  report: Report,
  {
    madeAt,
    env,
    signal,
  }: { madeAt: string; env: Readonly<Record<string, string | undefined>>; signal?: AbortSignal },
): Promise<Outcome<Uint8Array>> {
  const browser = isDrawable(report) ? null : findBrowser(env)
  if (browser === null) return fine(await drawPdf(report, madeAt))
  const html = await reportHtml(report, { look: 'print', fontFaces: fontFaces(), isForPaper: true })
  return printPdf(html, browser, signal === undefined ? {} : { signal })
}
