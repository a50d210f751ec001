import { createHash } from 'node:crypto'
import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { isDeepStrictEqual } from 'node:util'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { LONG_LOG_BYTES } from '../../src/cli/besideLog.ts'
import { openLogFile, withLogFile } from '../../src/cli/openLogs.ts'
import { HEAD_BYTES, readLog } from '../../src/logs/index.ts'
import { bundled } from '../faults/bundle.ts'

const folder = mkdtempSync(join(tmpdir(), 'open-logs-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

let threadScript: URL
beforeAll(async () => {
  threadScript = pathToFileURL(await bundled('../../src/cli/logThread.ts', folder))
})

const text = (rows: number, wide = 0): string =>
  `time_s,force_N\n${Array.from({ length: rows }, (_, i) => `${(i / 100).toFixed(2)},${i % 90}.5${' '.repeat(wide)}`).join('\n')}\n`

/** A log so long that a thread works on it too. */
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

/** A thread of another making. */
function script(name: string, code: string): URL {
  const path = join(folder, name)
  writeFileSync(path, `import { parentPort } from 'node:worker_threads'\n${code}\n`)
  return pathToFileURL(path)
}

/** Answers with a hash of its own, and so shows whose hash is taken; it reads no rows. */
const ANSWERING = `parentPort.on('message', ({ ask }) =>
  parentPort.postMessage(ask === 'hash' ? { answer: 'hash', sha256: 'of the thread' } : { answer: 'rows' }),
)`

/** Takes all the rows it is asked for a part in as one of its own, and so shows that they are taken; then it leaves a file. */
const inventing = (sign: string): string => `import { writeFileSync } from 'node:fs'
parentPort.on('message', ({ ask, rows }) => {
  if (ask === 'hash') return parentPort.postMessage({ answer: 'hash', sha256: 'of the thread' })
  rows.columns.forEach((column, i) => { column[0] = 98765 + i })
  // No part is left; the last of them ends the rows after one.
  const parts = rows.board.length - 5
  Atomics.store(rows.board, 0, parts)
  rows.board.set([parts - 1, rows.to - rows.from - (parts - 1) * rows.partBytes, 1], 1)
  writeFileSync(${JSON.stringify(sign)}, '')
  parentPort.postMessage({ answer: 'rows' })
})`

const sleep = (ms: number): unknown => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms)

describe('the rows of a long log', () => {
  const body = text(20_000, Math.ceil(LONG_LOG_BYTES / 20_000))
  const logs: Record<string, string> = {
    'of plain numbers': body,
    'with a last line without an end': `${body}200.00,3.5`,
    'with a last line cut short': `${body}200.0`,
    'with an odd row in the second half': body.replace('150.00,', '# warm by now\n150.00,oops'),
    'with line ends of two characters': body.replaceAll('\n', '\r\n'),
  }
  test.each(Object.keys(logs))('%s are the same where a thread reads half of them', async title => {
    const path = join(folder, 'rows.csv')
    writeFileSync(path, logs[title]!)
    const opened = await openLogFile(path, { threadScript })
    const whole = readLog(readFileSync(path), 'rows.csv')
    if (!opened.ok || !whole.ok) throw new Error('not read')
    const sha256 = sha256Of(path)
    const segments = whole.value.segments.map(segment => ({ ...segment, sha256 }))
    expect(isDeepStrictEqual(opened.value, { ...whole.value, sha256, segments })).toBe(true)
    expect(opened.value.timeS.buffer).toBeInstanceOf(SharedArrayBuffer)
  })

  test('are those that the thread read', async () => {
    const path = longLog('long.csv')
    const sign = join(folder, 'invented')
    const opened = await openLogFile(path, {
      threadScript: script('inventing.mjs', inventing(sign)),
      onProgress(done) {
        // After the first part that is read together, the other thread has its turn.
        for (let k = 0; done > 2 * HEAD_BYTES && !existsSync(sign) && k < 1000; k++) sleep(20)
      },
    })
    if (!opened.ok) throw new Error('not read')
    expect(opened.value.timeS.at(-1)).toBe(98765)
    expect(opened.value.timeS.length).toBeLessThan(20_000)
  })
})

describe('the hash of a log', () => {
  test('is that of its bytes, whether short or long', async () => {
    const short = join(folder, 'short.csv')
    writeFileSync(short, text(50))
    for (const path of [short, longLog('long.csv')]) {
      const sha256 = sha256Of(path)
      expect(await hashesOf(path, { threadScript })).toEqual([sha256, sha256])
      expect(await hashesOf(path, {})).toEqual([sha256, sha256])
    }
  })

  test('comes from the thread for a long log, never for a short one', async () => {
    const answering = script('answering.mjs', ANSWERING)
    const short = join(folder, 'short.csv')
    writeFileSync(short, text(50))
    expect(await hashesOf(short, { threadScript: answering })).toEqual([sha256Of(short), sha256Of(short)])
    const long = longLog('long.csv')
    expect(await hashesOf(long, { threadScript: answering })).toEqual(['of the thread', 'of the thread'])
  })

  test('is made anew where the log grew or shrank while it was read', async () => {
    const answering = script('answering.mjs', ANSWERING)
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
      const hashes = await hashesOf(path, { threadScript: answering, onProgress })
      expect(hashes).toEqual([sha256Of(path), sha256Of(path)])
    }
  })

  test('is made anew where the thread fails or ends without an answer', async () => {
    const path = longLog('long.csv')
    for (const code of ["throw new Error('a fault')", 'process.exit(3)']) {
      const failing = script(`failing-${code.length}.mjs`, code)
      expect(await hashesOf(path, { threadScript: failing })).toEqual([sha256Of(path), sha256Of(path)])
    }
  })

  test('is not waited for where the log is none', async () => {
    const path = join(folder, 'words.csv')
    writeFileSync(path, 'no numbers here\n'.repeat(Math.ceil(LONG_LOG_BYTES / 16) + 1))
    const silent = script('silent.mjs', 'setInterval(() => parentPort.ref(), 1000)')
    const opened = await openLogFile(path, { threadScript: silent })
    expect(opened.ok).toBe(false)
  })
})

describe('what is made of a log', () => {
  test('is made before its hash is known, and stands beside it', async () => {
    const path = longLog('long.csv')
    const hashes: string[] = []
    const opened = await withLogFile(path, { threadScript }, ({ sha256, timeS }) => {
      hashes.push(sha256)
      return timeS.length
    })
    expect(hashes).toEqual([''])
    expect(opened).toEqual({ ok: true, value: { made: 20_000, sha256: sha256Of(path) } })
  })

  test('is made anew where the log changed meanwhile', async () => {
    const path = longLog('changing.csv')
    const lengths: number[] = []
    const opened = await withLogFile(path, { threadScript }, ({ timeS }) => {
      lengths.push(timeS.length)
      if (lengths.length === 1) appendFileSync(path, '200.00,3.5\n')
      return timeS.length
    })
    expect(lengths).toEqual([20_000, 20_001])
    expect(opened).toEqual({ ok: true, value: { made: 20_001, sha256: sha256Of(path) } })
  })

  test('is not made where the log is none', async () => {
    const path = join(folder, 'words.csv')
    writeFileSync(path, 'no numbers here\n')
    const work = vi.fn()
    expect((await withLogFile(path, {}, work)).ok).toBe(false)
    expect(work).not.toHaveBeenCalled()
  })
})
