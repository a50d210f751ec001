import { clipOf, jobOf } from './job.ts'
import { type ReadableContext, renderWebm } from './renderWebm.ts'

/**
 * The script of the page that a browser without a window opens to render a clip. It asks the server that it
 * came from for the job and the typeface, and hands the clip back in pieces.
 */

/** What is used of a browser; this room has no types of its own for it. */
interface Browser {
  readonly OffscreenCanvas: new (
    width: number,
    height: number,
  ) => { getContext(kind: '2d', options: { willReadFrequently: boolean }): ReadableContext | null }
  readonly FontFace: new (
    family: string,
    source: string,
    given: { weight: string },
  ) => { load(): Promise<unknown> }
  readonly document: { readonly fonts: { add(face: unknown): void } }
  close(): void
}

const browser = globalThis as unknown as Browser
/** Frames between two words on how far it is. */
const TELL_EVERY = 10

async function send(path: string, body: Uint8Array | string = ''): Promise<void> {
  const answer = await fetch(path, { method: 'POST', body: body as Uint8Array<ArrayBuffer> | string })
  if (!answer.ok) throw new Error(`the clip could not be handed over: ${answer.status}`)
}

function makeContext(width: number, height: number): ReadableContext {
  const context = new browser.OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true })
  if (context === null) throw new Error('the browser gives no canvas of this size')
  return context
}

async function loadFonts(): Promise<void> {
  for (const [name, weight] of [
    ['Regular', '400'],
    ['Bold', '700'],
  ] as const) {
    const face = new browser.FontFace('Atkinson Hyperlegible', `url(font/${name})`, { weight })
    await face.load()
    browser.document.fonts.add(face)
  }
}

async function work(): Promise<void> {
  const job = jobOf(await (await fetch('job')).text())
  await loadFonts()
  await renderWebm(clipOf(job), {
    makeContext,
    write: (bytes, position) => send(`out?at=${position}`, bytes),
    onFrame: (done, all) => {
      // Nobody waits for the answer: where there is none, the next piece of the clip says so.
      if (done % TELL_EVERY === 0 || done === all) send(`frame?done=${done}&all=${all}`).catch(() => {})
    },
  })
  await send('end')
}

work()
  .catch(error => send('failed', error instanceof Error ? (error.stack ?? error.message) : String(error)))
  .catch(() => browser.close())
