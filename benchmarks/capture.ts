import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import {
  type LiveMessage,
  NO_PLAN,
  openSession,
  type Source,
  type SourceListener,
} from '../src/capture/index.ts'
import type { FileLayer } from '../src/capture/journal/files.ts'
import { diskFiles } from '../src/capture/node/diskFiles.ts'
import { withChecksum } from '../src/capture/protocol.ts'

/**
 * Live capture: how many samples a second it takes in without a loss, how soon a sample is on the disk (fsync), how soon
 * a fall of force is told. Run: `npm run bench capture`. The journal lies in BENCH_FOLDER, else the system's temporary folder.
 */
interface Line extends Source {
  say(text: Uint8Array): void
}

function line(): Line {
  let listener: SourceListener | null = null
  return {
    kind: 'stream',
    name: 'benchmark',
    send: null,
    run: (given, stop) =>
      new Promise(resolve => {
        listener = given
        stop.addEventListener('abort', () => resolve(null))
        given.opened()
      }),
    say: text => listener?.bytes(text),
  }
}

const text = new TextEncoder()
const at = (share: number, sorted: readonly number[]): string =>
  `${(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(1)} ms`
const sortedOf = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b)
const folder = mkdtempSync(join(process.env.BENCH_FOLDER ?? tmpdir(), 'tenterhook-capture-'))

/** The disk, telling when each append was made and when the sync that covers it had come back. */
function timedDisk(onSynced: (upToMs: number) => void): FileLayer {
  return {
    ...diskFiles,
    async create(path, keepBytes) {
      const file = await diskFiles.create(path, keepBytes)
      return {
        ...file,
        async sync() {
          const fromMs = performance.now()
          await file.sync()
          onSynced(fromMs)
        },
      }
    },
  }
}

async function open(source: Line, files: FileLayer, told: (message: LiveMessage) => void) {
  const opened = await openSession({ source, journals: folder, files })
  if (!opened.ok) throw new Error(opened.problems[0]?.what)
  opened.value.subscribe(told)
  await opened.value.start({ ...NO_PLAN, keepBeforeS: 0 })
  return opened.value
}

const EVERY = 100_000

const FORMS: Readonly<Record<string, (i: number) => string>> = {
  'force alone': i => `${((i % 5000) / 100).toFixed(2)} N`,
  'time,force': i => `${i},${((i % 5000) / 100).toFixed(2)}`,
  'time,force,travel,temperature': i => `${i},${((i % 5000) / 100).toFixed(2)},${(i % 900) / 10},21.5`,
  'line protocol': i => withChecksum(`s ${i % 65536} ${i * 10} ${i % 5000} 0`),
}

const HEADERS: Readonly<Record<string, string>> = {
  'time,force': 'time_ms,force_N',
  'time,force,travel,temperature': 'time_ms,force_N,travel_mm,temp_C',
}

/** As fast as it goes: reads of 200 lines, with a turn for the others after each. */
async function ingest(): Promise<void> {
  for (const [name, form] of Object.entries(FORMS)) {
    const lines = 200_000
    const chunks: Uint8Array[] = []
    for (let i = 0; i < lines; i += 200) {
      chunks.push(text.encode(Array.from({ length: 200 }, (_, k) => `${form(i + k)}\n`).join('')))
    }
    const source = line()
    const session = await open(source, diskFiles, () => {})
    if (name.startsWith('time,')) source.say(text.encode(`${HEADERS[name]}\n`))
    const begunMs = performance.now()
    const begunCpu = process.cpuUsage()
    for (const chunk of chunks) {
      source.say(chunk)
      await new Promise(resolve => setImmediate(resolve))
    }
    const tookS = (performance.now() - begunMs) / 1000
    const { user, system } = process.cpuUsage(begunCpu)
    const perCpuS = lines / ((user + system) / 1e6)
    const ended = await session.finish()
    const kept = ended.ok ? ended.value.samples : 0
    await session.close()
    console.log(
      `ingest, ${name}: ${Math.round(lines / tookS).toLocaleString('en')} samples/s (${Math.round(perCpuS).toLocaleString('en')} for a second of one core: ${(EVERY / perCpuS).toFixed(2)} of a core at 100,000/s), ${lines - kept} lost`,
    )
  }
}

const READ_BYTES = 65_536
const LONGEST = 9

/** Two seconds of a saw-tooth that rises, then falls by half: its lines, and where each ends. */
function sawTooth(rateHz: number): { bytes: Uint8Array; endOf: Uint32Array } {
  const lines = Array.from({ length: 2 * rateHz }, (_, i) => `${(20 + (20 * i) / rateHz).toFixed(3)} N\n`)
  let end = 0
  const endOf = Uint32Array.from(lines, line => {
    end += line.length
    return end
  })
  return { bytes: text.encode(lines.join('')), endOf }
}

/** At a steady rate for some seconds: arrival to disk, and arrival to the telling of a fall. */
async function latencies(rateHz: number, seconds: number): Promise<void> {
  const { bytes, endOf } = sawTooth(rateHz)
  const journalMs: number[] = []
  const eventMs: number[] = []
  let waiting: number[] = []
  let fellMs = Number.NaN
  const source = line()
  const files = timedDisk(fromMs => {
    const nowMs = performance.now()
    // Samples are written within the gathering time before a sync begins; those after it wait for the next.
    const done = waiting.filter(ms => ms <= fromMs)
    waiting = waiting.filter(ms => ms > fromMs)
    for (const ms of done) journalMs.push(nowMs - ms)
  })
  const session = await open(source, files, message => {
    if (message.kind === 'event' && message.event.kind === 'drop' && !Number.isNaN(fellMs)) {
      eventMs.push(performance.now() - fellMs)
      fellMs = Number.NaN
    }
  })
  const begunMs = performance.now()
  const begunCpu = process.cpuUsage()
  let sent = 0
  while (performance.now() - begunMs < seconds * 1000) {
    const due = Math.floor(((performance.now() - begunMs) / 1000) * rateHz)
    while (sent < due) {
      // As a system hands them on: up to 64 KiB at a read, and a turn for the others in between.
      const from = sent % endOf.length
      const to = Math.min(from + due - sent, from + Math.floor(READ_BYTES / LONGEST), endOf.length)
      const nowMs = performance.now()
      if (sent > 0 && from === 0) fellMs = nowMs
      waiting.push(nowMs)
      source.say(bytes.slice(from === 0 ? 0 : endOf[from - 1], endOf[to - 1]))
      sent += to - from
      await new Promise(resolve => setImmediate(resolve))
    }
    await new Promise(resolve => setTimeout(resolve, 1))
  }
  const { user, system } = process.cpuUsage(begunCpu)
  const cores = (user + system) / 1000 / (performance.now() - begunMs)
  const ended = await session.finish()
  await session.close()
  const lost = sent - (ended.ok ? ended.value.samples : 0)
  const journal = sortedOf(journalMs)
  const events = sortedOf(eventMs)
  console.log(
    `${rateHz} samples/s: on disk p50 ${at(0.5, journal)}, p99 ${at(0.99, journal)}, most ${at(1, journal)};` +
      ` fall told p50 ${at(0.5, events)}, most ${at(1, events)} (${events.length} falls); ${cores.toFixed(2)} of a core; ${lost} lost`,
  )
}

try {
  await ingest()
  for (const rateHz of [80, 1_000, 10_000, EVERY]) await latencies(rateHz, 10)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
