import { spawn } from 'node:child_process'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { browserArguments } from './findBrowser.ts'
import { killed } from './killed.ts'

const MOST_MS = 120_000

/**
 * Tagged, so that it can be read aloud, with an outline of its headings, without the browser's own head and
 * foot.
 */
const PDF = ['--no-pdf-header-footer', '--export-tagged-pdf', '--generate-pdf-document-outline']

/**
 * A page as PDF by a browser of this computer. Problem: it did not make one within two minutes, or says why
 * not. `signal` stops it.
 */
export async function printPdf(
  html: string,
  browser: string,
  { signal }: { signal?: AbortSignal } = {},
): Promise<Outcome<Uint8Array>> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-pdf-'))
  try {
    const page = join(folder, 'page.html')
    const pdf = join(folder, 'page.pdf')
    await writeFile(page, html)
    const said = await run(
      browser,
      [
        ...browserArguments(join(folder, 'profile')),
        ...PDF,
        `--print-to-pdf=${pdf}`,
        pathToFileURL(page).href,
      ],
      signal,
    )
    const bytes = await readFile(pdf).catch(() => null)
    return bytes === null || bytes.length === 0
      ? wrong({
          where: browser,
          what: `it made no PDF${said === '' ? '' : `: ${said}`}.`,
          cure: 'Set TENTERHOOK_BROWSER to another browser, or to “none” to do without one.',
        })
      : fine(Uint8Array.from(bytes))
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 })
  }
}

/** Runs it to its end; what it said last, for people. */
function run(browser: string, words: readonly string[], signal: AbortSignal | undefined): Promise<string> {
  return new Promise(resolve => {
    const child = spawn(browser, words, {
      stdio: ['ignore', 'ignore', 'pipe'],
      detached: process.platform !== 'win32',
    })
    let said = ''
    const stop = (why: string) => {
      child.stderr.removeAllListeners('data')
      said = why
      void killed(child)
    }
    const late = setTimeout(() => stop('it took over two minutes'), MOST_MS)
    const aborted = () => stop('it was stopped')
    signal?.addEventListener('abort', aborted)
    child.stderr.on('data', (part: Buffer) => {
      said = `${said}${part}`.slice(-400)
    })
    const end = (text: string) => {
      clearTimeout(late)
      signal?.removeEventListener('abort', aborted)
      resolve(text.trim().split('\n').at(-1) ?? '')
    }
    child.on('error', error => end(error.message))
    child.on('close', () => end(said))
  })
}
