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
import { diskFiles, type FileLayer } from '../src/capture/journal/files.ts'
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
    async create(path) {
      const file = await diskFiles.create(path)
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

const FORMS: Readonly<Record<string, (i: number) => string>> = {
  'force alone': i => `${((i % 5000) / 100).toFixed(2)} N`,
  'time,force': i => `${i},${((i % 5000) / 100).toFixed(2)}`,
  'line protocol': i => withChecksum(`s ${i % 65536} ${i * 10} ${i % 5000} 0`),
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
    if (name === 'time,force') source.say(text.encode('time_ms,force_N\n'))
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
    const kept = ended.ok ? ended.value.recording.timeS.length : 0
    await session.close()
    console.log(
      `ingest, ${name}: ${Math.round(lines / tookS).toLocaleString('en')} samples/s (${Math.round(perCpuS).toLocaleString('en')} for a second of one core), ${lines - kept} lost`,
    )
  }
}

/** At a steady rate for some seconds: arrival to disk, and arrival to the telling of a fall. */
async function latencies(rateHz: number, seconds: number): Promise<void> {
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
  let sent = 0
  while (performance.now() - begunMs < seconds * 1000) {
    const due = ((performance.now() - begunMs) / 1000) * rateHz
    let said = ''
    let fell = false
    for (; sent < due; sent++) {
      // A saw-tooth: two seconds up, then a fall by half.
      const phase = (sent / rateHz) % 2
      fell ||= sent > 0 && phase < ((sent - 1) / rateHz) % 2
      said += `${(20 + 20 * phase).toFixed(3)} N\n`
    }
    if (said !== '') {
      const nowMs = performance.now()
      if (fell) fellMs = nowMs
      waiting.push(nowMs)
      source.say(text.encode(said))
    }
    await new Promise(resolve => setTimeout(resolve, 1))
  }
  await session.finish()
  await session.close()
  const journal = sortedOf(journalMs)
  const events = sortedOf(eventMs)
  console.log(
    `${rateHz} samples/s: on disk p50 ${at(0.5, journal)}, p99 ${at(0.99, journal)}, most ${at(1, journal)};` +
      ` fall told p50 ${at(0.5, events)}, most ${at(1, events)} (${events.length} falls)`,
  )
}

try {
  await ingest()
  for (const rateHz of [80, 1_000, 10_000]) await latencies(rateHz, 10)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
