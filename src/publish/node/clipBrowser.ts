import { type ChildProcess, spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { type ClipJob, jobJson } from '../clip/job.ts'
import { fontFiles } from './assets.ts'
import { browserArguments } from './findBrowser.ts'
import { type HalfFile, openHalfFile } from './halfFile.ts'
import { killed } from './killed.ts'

export interface ClipRun {
  /** Where the clip goes; nothing stands there until it is whole. */
  readonly path: string
  readonly onFrame?: (done: number, all: number) => void
  readonly signal?: AbortSignal
}

export interface BrowserRun extends ClipRun {
  readonly browser: string
  /** The built script of `src/publish/clip/page.ts`. */
  readonly pageScript: Uint8Array
}

/** A browser that says nothing for so long is taken to hang. A frame takes a fraction of a second. */
const SILENT_MS = 90_000

const PAGE = `<!doctype html>
<html lang="en"><meta charset="utf-8"><title>clip</title><link rel="icon" href="data:,">
<script type="module" src="page.js"></script></html>
`

/**
 * Renders a clip as WebM with alpha in an installed browser without a window. The browser fetches the job
 * from this process over the loopback interface, under an address that nobody can guess, and hands the clip
 * back the same way.
 */
export async function renderInBrowser(job: ClipJob, run: BrowserRun): Promise<Outcome<string>> {
  const half = await openHalfFile(run.path)
  if (!half.ok) return half
  const profile = await mkdtemp(join(tmpdir(), 'tenterhook-clip-'))
  let child: ChildProcess | null = null
  let server: Server | null = null
  try {
    const outcome = await new Promise<Outcome<null>>((resolve, reject) => {
      // A timer left running would hold the command until it is due.
      const end = (problem: Problem | null) => {
        clearTimeout(silence)
        resolve(problem === null ? fine(null) : wrong(problem))
      }
      let said = ''
      const silence = setTimeout(() => end(trouble('the browser stopped answering.', said)), SILENT_MS)
      const stop = () => end(stopped(run.path))
      if (run.signal?.aborted) return stop()
      run.signal?.addEventListener('abort', stop, { once: true })
      const token = randomBytes(16).toString('hex')
      const opened = createServer((request, response) => {
        silence.refresh()
        answer(request, response, { token, job, run, half: half.value, end }).catch(reject)
      })
      server = opened
      opened.listen(0, '127.0.0.1', () => {
        const { port } = opened.address() as AddressInfo
        const words = [...browserArguments(profile), `http://127.0.0.1:${port}/${token}/`]
        child = spawn(run.browser, words, {
          stdio: ['ignore', 'ignore', 'pipe'],
          detached: process.platform !== 'win32',
        })
        child.stderr?.on('data', (chunk: Buffer) => {
          said = `${said}${chunk.toString()}`.slice(-2_000)
        })
        child.on('error', error => end(trouble(`it could not be started: ${error.message}.`, '')))
        child.on('exit', () => end(trouble('the browser ended before the clip did.', said)))
      })
    })
    return outcome.ok ? await half.value.finish() : outcome
  } finally {
    await killed(child)
    await closed(server)
    await half.value.drop()
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 }).catch(() => {})
  }
}

interface Desk {
  readonly token: string
  readonly job: ClipJob
  readonly run: BrowserRun
  readonly half: HalfFile
  readonly end: (problem: Problem | null) => void
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  { token, job, run, half, end }: Desk,
): Promise<void> {
  const url = new URL(request.url ?? '/', 'http://127.0.0.1')
  const give = (type: string, body: string | Uint8Array) => {
    response.writeHead(200, { 'content-type': type, 'cache-control': 'no-store' }).end(body)
  }
  const name = url.pathname.startsWith(`/${token}/`) ? url.pathname.slice(token.length + 2) : null
  switch (`${request.method} ${name}`) {
    case 'GET ':
      return give('text/html; charset=utf-8', PAGE)
    case 'GET page.js':
      return give('text/javascript; charset=utf-8', run.pageScript)
    case 'GET job':
      return give('application/json', jobJson(job))
    case 'GET font/Regular':
    case 'GET font/Bold': {
      const weight = basename(url.pathname)
      const file = fontFiles().find(path => path.includes(weight))
      return give('font/ttf', file === undefined ? '' : await readFile(file))
    }
    case 'POST out': {
      const written = await half.write(await bodyOf(request), Number(url.searchParams.get('at')))
      if (!written.ok) end(written.problems[0]!)
      return give('text/plain', '')
    }
    case 'POST frame':
      run.onFrame?.(Number(url.searchParams.get('done')), Number(url.searchParams.get('all')))
      return give('text/plain', '')
    case 'POST end':
      give('text/plain', '')
      return end(null)
    case 'POST failed':
      give('text/plain', '')
      return end(trouble('the browser could not encode the clip.', (await bodyOf(request)).toString()))
    default:
      response.writeHead(404).end()
  }
}

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const chunks: Buffer[] = []
  for await (const chunk of request) chunks.push(chunk as Buffer)
  return Buffer.concat(chunks)
}

/** The words of the browser are for whoever looks into it. */
const trouble = (what: string, said: string): Problem => ({
  where: 'the browser that renders the clip',
  what: `${what}${said.trim() === '' ? '' : ` It said: ${said.trim().slice(-400)}`}`,
  cure: 'Name another Chromium or Chrome with TENTERHOOK_BROWSER, or render with ffmpeg: --encoder ffmpeg.',
})

export const stopped = (path: string): Problem => ({
  where: path,
  what: 'it was stopped before it was whole.',
  cure: 'Nothing was written. Start it again.',
})

const closed = (server: Server | null): Promise<void> =>
  new Promise(resolve => {
    if (server === null) return resolve()
    server.closeAllConnections()
    server.close(() => resolve())
  })
