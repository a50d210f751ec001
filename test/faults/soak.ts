import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { NO_PLAN, openSession } from '../../src/capture/index.ts'
import { handSource } from '../capture/handSource.ts'

/**
 * Records for a long time at a steady rate; the memory in use after collecting garbage must not grow with the
 * samples. Ends with exit code 1 where it does or where a sample is lost. A minute of samples is kept for the
 * start of the next recording, so that a run is judged from its second fifth on and says little when shorter
 * than five minutes.
 */
const seconds = Number(process.env.SOAK_SECONDS ?? 600)
const rateHz = Number(process.env.SOAK_RATE ?? 1_000)
/**
 * What may be in use at the end on top of the second fifth: far less than ten minutes of samples take
 * anywhere in memory.
 */
const MOST_GROWTH_MB = 5
setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void
const folder = await mkdtemp(join(tmpdir(), 'tenterhook-soak-'))

const source = handSource()
const opened = await openSession({ source, journals: folder })
if (!opened.ok) throw new Error(opened.problems[0]?.what)
const session = opened.value
let told = 0
session.subscribe(message => {
  if (message.kind === 'samples') told += message.batch.timeS.length
})
await session.start(NO_PLAN)
source.say('time_ms,force_N\n')

const used: number[] = []
const begunMs = performance.now()
let sent = 0
let nextLookS = 0
for (;;) {
  const nowS = (performance.now() - begunMs) / 1000
  if (nowS >= seconds) break
  let lines = ''
  // A pull every ten seconds, so that states, events and rests come and go all the time.
  for (; sent < nowS * rateHz; sent++) {
    const phase = (sent / rateHz) % 10
    const force = phase < 3 || phase > 8 ? 0 : 20 * (phase - 3) * (phase > 6 ? 0.6 : 1)
    lines += `${((sent * 1000) / rateHz).toFixed(2)},${(force + 0.01 * (sent % 3)).toFixed(2)}\n`
  }
  if (lines !== '') source.say(lines)
  if (nowS >= nextLookS) {
    nextLookS += seconds / 50
    collect()
    const { heapUsed, external, rss } = process.memoryUsage()
    used.push((heapUsed + external) / 2 ** 20)
    console.log(
      `${nowS.toFixed(0)} s: ${sent} samples, ${used.at(-1)!.toFixed(1)} MB in use, ${(rss / 2 ** 20).toFixed(0)} MB in all`,
    )
  }
  await new Promise(resolve => setTimeout(resolve, 2))
}
const state = session.snapshot()
const ended = await session.finish()
await session.close()
await rm(folder, { recursive: true, force: true })

const fifth = Math.floor(used.length / 5)
const early = Math.min(...used.slice(fifth, 2 * fifth))
const late = Math.min(...used.slice(-fifth))
const kept = ended.ok ? ended.value.samples : 0
const flat = late - early < MOST_GROWTH_MB
console.log(
  `${kept} of ${sent} samples kept, ${told} told, ${state.state.pulls} pulls; in use early ${early.toFixed(1)} MB, late ${late.toFixed(1)} MB: ${flat ? 'flat' : 'GROWS'}`,
)
process.exitCode = flat && kept === sent ? 0 : 1
