import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync } from 'node:fs'
import { open, readdir, rm } from 'node:fs/promises'
import { type AddressInfo, createServer, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import { readFrames, samplesOf } from '../src/capture/journal/frames.ts'

/**
 * Is a capture held up by heavy work in the same server? The built server records 1,000 lines a second from a device on
 * this machine while it is asked for one heavy thing after the other, over and over:
 *   import     a log of 55 MB is taken in
 *   package    a study of large logs is packed (250 MB of files)
 *   report     its report as PDF
 *   reading    a specimen with a long log is read anew
 * For each sample: from the device's writing of it to its bytes standing in the journal's file, as seen by another process
 * that looks every few milliseconds. The journal is synced 50 ms after the last sync began, at the latest (see the
 * benchmark `capture`); 200 ms less that and the disk's own time is what is left to this. Told: middle, p99, p99.9, most.
 * Run: `npm run bench heldUp`; BENCH_SECONDS is how long each is watched (20).
 */
const SECONDS = Number(process.env.BENCH_SECONDS ?? 20)
const RATE_HZ = 1_000
const LOOK_MS = 3

const cli = process.env.TENTERHOOK_CLI ?? fileURLToPath(new URL('../dist/cli.js', import.meta.url))
const folder = mkdtempSync(join(process.env.BENCH_FOLDER ?? tmpdir(), 'tenterhook-held-up-'))
const nowMs = (): number => performance.now()

/** A device that says its samples at their times, and when each was written. */
async function device() {
  const sentMs: number[] = []
  let socket: Socket | null = null
  const server = createServer(given => {
    socket = given
    given.on('error', () => {})
    given.setNoDelay(true)
    given.write('time_ms,force_N\n')
  })
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  const begunMs = nowMs()
  const timer = setInterval(() => {
    let lines = ''
    for (; sentMs.length < ((nowMs() - begunMs) * RATE_HZ) / 1000; )
      if (socket) {
        lines += `${sentMs.length},${(sentMs.length % 5_000) / 100}\n`
        sentMs.push(nowMs())
      } else sentMs.push(Number.NaN)
    if (lines !== '') socket?.write(lines)
  }, 1)
  return {
    port: (server.address() as AddressInfo).port,
    sentMs,
    stop() {
      clearInterval(timer)
      socket?.destroy()
      server.close()
    },
  }
}

/** The delays of the samples of a journal that grows: each from when it was sent to when it was seen in the file. */
function watched(path: string, sentMs: readonly number[]) {
  const delays: number[] = []
  let isOver = false
  const looking = (async () => {
    const file = await open(path, 'r')
    let at = 0
    let carry = new Uint8Array(0)
    let head: Uint8Array | null = null
    while (!isOver) {
      const { bytesRead, buffer } = await file.read(new Uint8Array(1 << 18), 0, 1 << 18, at)
      const seenMs = nowMs()
      at += bytesRead
      if (bytesRead > 0) {
        let bytes = new Uint8Array(carry.length + bytesRead)
        bytes.set(carry)
        bytes.set(buffer.subarray(0, bytesRead), carry.length)
        if (head === null) head = bytes.slice(0, bytes.indexOf(10) + 1)
        else {
          const whole = new Uint8Array(head.length + bytes.length)
          whole.set(head)
          whole.set(bytes, head.length)
          bytes = whole
        }
        const { count, body: bodyOf, tornBytes } = readFrames(bytes)
        carry = bytes.slice(bytes.length - tornBytes)
        for (let frame = 0; frame < count; frame++) {
          const body = bodyOf(frame)
          const block = body[0] === 2 ? samplesOf(body) : null
          for (const stampS of block?.stampS ?? []) {
            const sent = sentMs[Math.round(stampS * 1000)]
            if (sent !== undefined && !Number.isNaN(sent)) delays.push(seenMs - sent)
          }
        }
      }
      await pause(LOOK_MS)
    }
    await file.close()
  })()
  return {
    delays,
    async stop() {
      isOver = true
      await looking
    },
  }
}

const line = (samples: number, from = 0): Uint8Array =>
  new TextEncoder().encode(
    `time_s,force_N\n${Array.from({ length: samples }, (_, i) => `${((from + i) / 1000).toFixed(3)},${(((from + i) % 9_000) / 100).toFixed(2)}\n`).join('')}`,
  )

// Made before: a connection to the server is not left idle meanwhile.
const large = line(3_900_000)

/** Asks in a thread of its own, so that device and watcher are not held up by what is sent and received here. */
const ASKER = `
const { parentPort } = require('node:worker_threads')
parentPort.on('message', async ({ url, method, body }) => {
  const isBytes = body instanceof Uint8Array
  const headers = { 'content-type': isBytes ? 'application/octet-stream' : 'application/json' }
  const asked = body === undefined ? { method } : { method, headers, body: isBytes ? body : JSON.stringify(body) }
  const response = await fetch(url, asked)
  let text = ''
  if (/json/.test(response.headers.get('content-type') ?? '')) text = await response.text()
  else for await (const _ of response.body ?? []);
  parentPort.postMessage({ status: response.status, text })
})`
let asker: Worker | null = null
let server: ChildProcess | null = null
const rig = await device()
try {
  server = spawn(process.execPath, [cli, 'start', '--no-open', '--port', '0', '--json', '--store', folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const [told] = (await once(server.stdout!, 'data')) as [Buffer]
  const { address } = JSON.parse(String(told)) as { address: string }
  asker = new Worker(ASKER, { eval: true })
  const ask = async (method: string, path: string, body?: unknown): Promise<string> => {
    asker!.postMessage({ url: new URL(path, address).href, method, body })
    const [{ status, text }] = (await once(asker!, 'message')) as [{ status: number; text: string }]
    if (status >= 300) throw new Error(`${method} ${path}: ${status} ${text}`)
    return text
  }
  const json = async <T>(method: string, path: string, body?: unknown): Promise<T> =>
    JSON.parse(await ask(method, path, body)) as T

  const study = await json<{ id: string }>('POST', '/api/studies', { name: 'Held up' })
  const specimens: { id: string }[] = []
  for (let n = 0; n < 4; n++) {
    const specimen = await json<{ id: string }>('POST', `/api/studies/${study.id}/specimens`, {
      name: `s ${n}`,
    })
    await ask('POST', `/api/recordings?name=s${n}.csv&specimenId=${specimen.id}`, line(900_000, n * 7))
    specimens.push(specimen)
  }
  await ask('POST', '/api/line', { source: { kind: 'tcp', host: '127.0.0.1', port: rig.port } })
  await pause(500)
  await ask('POST', '/api/line/start', {})
  const journals = join(folder, 'journals')
  const [name] = await readdir(journals)
  const journal = watched(join(journals, `${name}`), rig.sentMs)
  // What came before the recording began is in it too, and was not to be on the disk then.
  await pause(500)

  let imports = 0
  const works: [string, () => Promise<unknown>][] = [
    ['nothing', () => pause(100)],
    [
      `import of ${(large.length / 1e6).toFixed(0)} MB`,
      async () => {
        // Another one each time, so that it is not known already.
        large[large.length - 2] = 48 + (imports++ % 10)
        await ask('POST', `/api/recordings?name=large-${imports}.csv`, large)
      },
    ],
    ['package', () => ask('GET', `/api/studies/${study.id}/package`)],
    ['report', () => ask('GET', `/api/studies/${study.id}/report?as=pdf`)],
    [
      'reading',
      () => json('POST', `/api/specimens/${specimens[0]!.id}/reading/preview`, { adjustments: [] }),
    ],
  ]
  for (const [what, work] of works) {
    journal.delays.length = 0
    const fromMs = nowMs()
    let times = 0
    do {
      await work()
      times++
    } while (nowMs() - fromMs < SECONDS * 1000)
    await pause(300)
    const sorted = [...journal.delays].sort((a, b) => a - b)
    const q = (share: number): string =>
      `${(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(1)} ms`
    console.log(
      `${what.padEnd(18)} ${times} times, ${sorted.length} samples: middle ${q(0.5)}, p99 ${q(0.99)}, p99.9 ${q(0.999)}, most ${q(1)}`,
    )
  }
  await journal.stop()
  await ask('POST', '/api/line/finish')
} finally {
  rig.stop()
  await asker?.terminate()
  server?.kill('SIGTERM')
  await rm(folder, { recursive: true, force: true })
}
