import { extname } from 'node:path'
import { type Outcome, wrong } from '../../core/problem.ts'
import { type ClipJob, clipOf } from '../clip/job.ts'
import { type ClipRun, renderInBrowser } from './clipBrowser.ts'
import { type FfmpegCodec, hasProgram, renderByFfmpeg } from './clipFfmpeg.ts'
import { clipPageScript } from './clipPageScript.ts'
import { renderPictures } from './clipPictures.ts'
import { findBrowser } from './findBrowser.ts'

export type Encoder = 'browser' | 'ffmpeg'
export type MovCodec = Exclude<FfmpegCodec, 'vp9'>

export interface RenderClipRun extends ClipRun {
  /** What encodes WebM; `null`: a browser where one is installed, else ffmpeg. */
  readonly encoder: Encoder | null
  readonly movCodec: MovCodec
}

/** Renders a clip as its name asks: `.webm`, `.mov`, or without an ending a folder of PNG pictures. */
export async function renderClip(job: ClipJob, run: RenderClipRun): Promise<Outcome<string>> {
  const ending = extname(run.path).toLowerCase()
  if (ending === '') return renderPictures(clipOf(job), run)
  if (ending === '.mov') {
    if (!(await hasProgram('ffmpeg'))) return wrong(noFfmpeg(run.path, 'QuickTime is'))
    return renderByFfmpeg(clipOf(job), { ...run, codec: run.movCodec })
  }
  const browser = run.encoder === 'ffmpeg' ? null : findBrowser()
  const pageScript = browser === null ? null : await clipPageScript()
  if (browser !== null && pageScript !== null) return renderInBrowser(job, { ...run, browser, pageScript })
  if (run.encoder === 'browser') {
    return wrong({
      where: run.path,
      what: 'no Chromium, Chrome or Edge was found.',
      cure: 'Install one, or name it with TENTERHOOK_BROWSER.',
    })
  }
  if (!(await hasProgram('ffmpeg'))) return wrong(noFfmpeg(run.path, 'without a browser WebM is'))
  return renderByFfmpeg(clipOf(job), { ...run, codec: 'vp9' })
}

const noFfmpeg = (where: string, what: string) => ({
  where,
  what: `${what} made by ffmpeg, which is not installed.`,
  cure: 'Install ffmpeg or a Chromium browser, or give a name without an ending for a folder of PNG pictures.',
})
