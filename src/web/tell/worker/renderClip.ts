import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import { type ClipJob, clipOf } from '../../../publish/clip/job.ts'
import { renderWebm } from '../../../publish/clip/renderWebm.ts'
import { loadFonts } from './fonts.ts'
import type { OnProgress } from './types.ts'

/** Renders a clip as WebM with an alpha channel in this thread. */
export async function renderedClip(job: ClipJob, onProgress: OnProgress): Promise<Outcome<Blob>> {
  if (typeof VideoEncoder === 'undefined' || typeof OffscreenCanvas === 'undefined')
    return wrong(cannotEncode('this browser cannot encode video here.'))
  await loadFonts()
  const pieces: { readonly bytes: Uint8Array<ArrayBuffer>; readonly position: number }[] = []
  try {
    await renderWebm(clipOf(job), {
      makeContext: (width, height) => contextOf(new OffscreenCanvas(width, height)),
      write: (bytes, position) => {
        pieces.push({ bytes: bytes.slice(), position })
      },
      onFrame: onProgress,
    })
  } catch (error) {
    return wrong(cannotEncode(`the clip could not be encoded: ${String(error)}`))
  }
  return fine(new Blob([inPlace(pieces)], { type: 'video/webm' }))
}

/** For drawing that is read again. @throws Error where the canvas is too large for the browser */
export function contextOf(canvas: OffscreenCanvas): OffscreenCanvasRenderingContext2D {
  const context = canvas.getContext('2d', { willReadFrequently: true })
  if (context === null) throw new Error('the browser gives no canvas of this size')
  return context
}

/** The pieces each in its place; a later one may mend an earlier. */
function inPlace(pieces: readonly { readonly bytes: Uint8Array; readonly position: number }[]) {
  const whole = new Uint8Array(Math.max(0, ...pieces.map(one => one.position + one.bytes.length)))
  for (const { bytes, position } of pieces) whole.set(bytes, position)
  return whole
}

const cannotEncode = (what: string) => ({
  where: 'clip',
  what,
  cure: 'Try a newer Chromium, Chrome or Edge, a smaller size, or `tenterhook overlay` on the command line.',
})
