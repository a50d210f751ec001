import { join } from 'node:path'
import { NO_PLAN, openSession } from '../src/capture/index.ts'
import { writePieces } from '../src/cli/writePieces.ts'
import { writeCsvInBlocks } from '../src/logs/index.ts'
import { storeCaptured } from '../src/server/storeCaptured.ts'
import { openStore, storePlace } from '../src/store/index.ts'
import { handSource } from '../test/capture/handSource.ts'

/**
 * Records so many hours at so many lines a second, as fast as the lines can be taken in, each read of the line with those of
 * 10 ms as it would be live; then ends the recording, stores, verifies and writes it as CSV. Tells the greatest memory of each step.
 * Arguments: folder of the store, lines a second, hours.
 */
const [folder = '', rate = '', hours = ''] = process.argv.slice(2)
const rateHz = Number(rate)
const samples = Math.round(rateHz * 3600 * Number(hours))
const LINES_A_READ = Math.max(1, Math.round(rateHz / 100))

const source = handSource()
const place = storePlace(folder, {})
if (!place.ok) throw new Error(place.problems[0]?.what)
const store = await openStore(place.value)
let clockS = 0
const clock = { nowS: () => clockS, wall: () => new Date(1_780_000_000_000 + 1000 * clockS) }
const opened = await openSession({
  source,
  journals: join(store.folder, 'journals'),
  clock,
  makes: 'short',
})
if (!opened.ok) throw new Error(opened.problems[0]?.what)
const session = opened.value
/** Greatest memory since it was last asked for, looked at every few milliseconds, and so far in all as the system counts it. */
let most = 0
const watching = setInterval(() => {
  most = Math.max(most, process.memoryUsage.rss())
}, 20)
const mostMb = (): string => {
  const seen = Math.max(most, process.memoryUsage.rss())
  most = 0
  return `${(seen / 2 ** 20).toFixed(0)} MB (${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB in all so far)`
}

source.say('time_ms,force_N\n')
const begun = await session.start({ ...NO_PLAN, keepBeforeS: 0 })
if (!begun.ok) throw new Error(begun.problems[0]?.what)
const fromMs = performance.now()
for (let sent = 0; sent < samples; ) {
  let lines = ''
  for (const to = Math.min(samples, sent + LINES_A_READ); sent < to; sent++) {
    // A pull every minute: states, events and rests come and go all the time.
    const phase = (sent / rateHz) % 60
    const force = phase < 20 || phase > 40 ? 0 : 5 * (phase - 20)
    lines += `${((sent * 1000) / rateHz).toFixed(2)},${(force + 0.01 * ((sent * 7) % 13)).toFixed(2)}\n`
  }
  clockS = sent / rateHz
  source.say(lines)
  // The journal is written and synced meanwhile, as it would be live.
  if (sent % (LINES_A_READ * 256) === 0) await new Promise(resolve => setTimeout(resolve, 5))
}
console.log(
  `recorded ${samples} samples in ${((performance.now() - fromMs) / 1000).toFixed(0)} s: ${mostMb()}`,
)
const endMs = performance.now()
const ended = await session.finish()
if (!ended.ok) throw new Error(ended.problems[0]?.what)
await session.close()
const stored = await storeCaptured(store, ended.value)
if (!stored.ok) throw new Error(stored.problems[0]?.what)
const { entry, reading } = stored.value
console.log(
  `ended and stored in ${((performance.now() - endMs) / 1000).toFixed(0)} s: ${mostMb()}, ${entry.samples} samples, ${entry.logBytes} bytes of journal`,
)
if (!reading.ok) console.log(`${reading.problems[0]?.what}`)
const verifyMs = performance.now()
const { findings } = await store.care.verify()
console.log(
  `verified in ${((performance.now() - verifyMs) / 1000).toFixed(0)} s: ${mostMb()}, ${findings.length} findings`,
)
const writeMs = performance.now()
const inChunks = await store.recordings.inChunks(entry.id)
if (!inChunks.ok) throw new Error(inChunks.problems[0]?.what)
const csv = join(folder, 'all.csv')
const written = await writePieces(csv, writeCsvInBlocks(inChunks.value.head, inChunks.value.blocks()))
if (!written.ok) throw new Error(written.problems[0]?.what)
console.log(`written as CSV in ${((performance.now() - writeMs) / 1000).toFixed(0)} s: ${mostMb()}`)
await store.close()
clearInterval(watching)
if (entry.samples !== samples) process.exitCode = 1
