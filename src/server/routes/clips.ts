import { createReadStream } from 'node:fs'
import { mkdtemp, rm, stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as later } from 'node:timers/promises'
import { z } from 'zod'
import type { Problem } from '../../core/problem.ts'
import type { ClipJob } from '../../publish/clip/job.ts'
import { overlayJob } from '../../publish/clip/overlayJob.ts'
import { slug } from '../../publish/package/slugs.ts'
import { syncSchema } from '../../publish/sync/document.ts'
import { answer, ok, type Route, route } from '../route.ts'
import { toldStudy } from './publish.ts'

const side = z.int().min(16).max(8192)
const timeS = z.number().min(0)
const frameTimesSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('steady'),
    rate: z.strictObject({ num: z.int().min(1), den: z.int().min(1) }),
    count: z.int().min(1),
  }),
  z.strictObject({ kind: z.literal('listed'), timesS: z.array(timeS).min(1), endS: timeS }),
])

/** What an overlay is made of, and how it shall look; `times`: the frames of the film, where they are known. */
const overlaySchema = z.strictObject({
  sync: syncSchema,
  width: side,
  height: side,
  dark: z.boolean(),
  ground: z.enum(['plate', 'rim']),
  rate: z.string().max(30),
  times: frameTimesSchema.nullable(),
  initials: z.boolean().default(false),
})

export const clipRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/clips',
    summary: 'Which clips this server can make: QuickTime where ffmpeg is installed',
    answers: '{ quickTime: boolean }',
    async run() {
      const { hasProgram } = await import('../../publish/node/clipFfmpeg.ts')
      return ok({ quickTime: await hasProgram('ffmpeg') })
    },
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/overlay',
    beside: true,
    summary:
      'The overlay for a film as QuickTime with alpha (ProRes 4444), by ffmpeg. Lines of JSON tell how far it is; the last one is {"bytes": n}, and so many bytes of the file follow, or {"problems": …}. Ending the request ends the work',
    answers: 'a file',
    body: overlaySchema,
    async run({ bench, params, body: { sync, times, initials, ...asked } }) {
      const study = await toldStudy(bench.store, params.id ?? '', { initials: initials ? 'true' : 'false' })
      if (!study.ok) return answer(study, 404)
      const job = overlayJob(study.value, sync, asked, times === null ? null : { times })
      if (!job.ok) return answer(job)
      return {
        status: 200,
        type: 'application/octet-stream',
        fileName: `${slug(study.value.name, 'study')}-overlay.mov`,
        body: rendered(job.value),
      }
    },
  }),
]

/** How often a word on how far it is goes out. */
const TELL_MS = 300

/** Renders into a folder of its own, which is gone when the last byte has been sent or the asker has left. */
async function* rendered(job: ClipJob): AsyncGenerator<Uint8Array> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-overlay-'))
  const path = join(folder, 'overlay.mov')
  const stop = new AbortController()
  let far = { done: 0, all: 0 }
  const { renderClip } = await import('../../publish/node/renderClip.ts')
  const rendering = renderClip(job, {
    path,
    encoder: null,
    movCodec: 'prores',
    signal: stop.signal,
    onFrame: (done, all) => {
      far = { done, all }
    },
  })
  try {
    while ((await Promise.race([rendering, later(TELL_MS, 'busy' as const)])) === 'busy') yield lineOf(far)
    const made = await rendering
    if (!made.ok) {
      yield lineOf({ problems: made.problems })
      return
    }
    yield lineOf({ bytes: (await stat(path)).size })
    for await (const piece of createReadStream(path)) yield piece as Uint8Array
  } finally {
    stop.abort()
    await rendering.catch(() => {})
    await rm(folder, { recursive: true, force: true })
  }
}

const lineOf = (
  told:
    | { readonly done: number; readonly all: number }
    | { readonly bytes: number }
    | { readonly problems: readonly Problem[] },
): Uint8Array => new TextEncoder().encode(`${JSON.stringify(told)}\n`)
