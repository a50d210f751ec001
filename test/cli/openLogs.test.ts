import { createHash } from 'node:crypto'
import { appendFileSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { LONG_LOG_BYTES } from '../../src/cli/logHash.ts'
import { openLogFile } from '../../src/cli/openLogs.ts'
import { bundled } from '../faults/bundle.ts'

const folder = mkdtempSync(join(tmpdir(), 'open-logs-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

let hashScript: URL
beforeAll(async () => {
  hashScript = pathToFileURL(await bundled('../../src/cli/hashThread.ts', folder))
})

const text = (rows: number, wide = 0): string =>
  `time_s,force_N\n${Array.from({ length: rows }, (_, i) => `${(i / 100).toFixed(2)},${i % 90}.5${' '.repeat(wide)}`).join('\n')}\n`

/** A log so long that it is hashed in a thread. */
function longLog(name: string): string {
  const path = join(folder, name)
  writeFileSync(path, text(20_000, Math.ceil(LONG_LOG_BYTES / 20_000)))
  return path
}

const sha256Of = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex')

async function hashesOf(path: string, options: Parameters<typeof openLogFile>[1]): Promise<string[]> {
  const opened = await openLogFile(path, options)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  return [opened.value.sha256, ...opened.value.segments.map(({ sha256 }) => sha256)]
}

/** A thread that answers with a hash of its own, and so shows whose hash is taken. */
function script(name: string, code: string): URL {
  const path = join(folder, name)
  writeFileSync(path, `import { parentPort } from 'node:worker_threads'\n${code}\n`)
  return pathToFileURL(path)
}

describe('the hash of a log', () => {
  test('is that of its bytes, whether short or long', async () => {
    const short = join(folder, 'short.csv')
    writeFileSync(short, text(50))
    for (const path of [short, longLog('long.csv')]) {
      const sha256 = sha256Of(path)
      expect(await hashesOf(path, { hashScript })).toEqual([sha256, sha256])
      expect(await hashesOf(path, {})).toEqual([sha256, sha256])
    }
  })

  test('comes from the thread for a long log, never for a short one', async () => {
    const answering = script('answering.mjs', "parentPort.postMessage('of the thread')")
    const short = join(folder, 'short.csv')
    writeFileSync(short, text(50))
    expect(await hashesOf(short, { hashScript: answering })).toEqual([sha256Of(short), sha256Of(short)])
    const long = longLog('long.csv')
    expect(await hashesOf(long, { hashScript: answering })).toEqual(['of the thread', 'of the thread'])
  })

  test('is made anew where the log grew or shrank while it was read', async () => {
    const answering = script('answering.mjs', "parentPort.postMessage('of the thread')")
    const changes = [
      (path: string) => appendFileSync(path, '200.00,3.5\n'),
      (path: string) => truncateSync(path, 1e6),
    ]
    for (const change of changes) {
      const path = longLog('changing.csv')
      let changed = false
      const onProgress = (): void => {
        if (!changed) change(path)
        changed = true
      }
      const hashes = await hashesOf(path, { hashScript: answering, onProgress })
      expect(hashes).toEqual([sha256Of(path), sha256Of(path)])
    }
  })

  test('is made anew where the thread fails or ends without an answer', async () => {
    const path = longLog('long.csv')
    for (const code of ["throw new Error('a fault')", 'process.exit(3)']) {
      const failing = script(`failing-${code.length}.mjs`, code)
      expect(await hashesOf(path, { hashScript: failing })).toEqual([sha256Of(path), sha256Of(path)])
    }
  })

  test('is not waited for where the log is none', async () => {
    const path = join(folder, 'words.csv')
    writeFileSync(path, 'no numbers here\n'.repeat(Math.ceil(LONG_LOG_BYTES / 16) + 1))
    const silent = script('silent.mjs', 'setInterval(() => parentPort.ref(), 1000)')
    const opened = await openLogFile(path, { hashScript: silent })
    expect(opened.ok).toBe(false)
  })
})
