import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { seeded } from '../src/capture/pretend/random.ts'

/**
 * How fast a log is read, as whole processes on the built command line:
 *   end to end    3 and 10 million samples with ten drops a minute against numpy and SciPy, turn about, each with its
 *                 start (target: 2.5 times as fast in every pair); and against their work alone, without loading them,
 *                 while ours keeps its start
 *   linearity     10 thousand to 30 million samples
 *   short log     5,000 lines against a bare `node -e 0` (target: under four of them)
 * Run: `npm run bench reading`; BENCH_SAMPLES=1000000 makes it shorter. SciPy is left out where python3 has none.
 * TENTERHOOK_CLI=…/bin/tenterhook.js times another build.
 */

const root = fileURLToPath(new URL('..', import.meta.url))
const cli = process.env.TENTERHOOK_CLI ?? join(root, 'bin', 'tenterhook.js')
const scipy = join(root, 'benchmarks', 'reading_scipy.py')
const most = Number(process.env.BENCH_SAMPLES ?? 30_000_000)
const repeats = 5

const RATE_HZ = 1000
const NOISE_N = 0.05
const random = seeded(1)
const noise = Float64Array.from({ length: 8191 }, () => random.normal(0, NOISE_N))

/** Force of a made-up log by the sample, in newton, without noise. */
type Force = (i: number) => number

/** Pulls of 500 s: rest, a saw-tooth of 40 teeth, a break, rest. */
const sawTooth: Force = i => {
  const pull = 500_000
  const rest = 50_000
  const at = i % pull
  if (at < rest || at >= pull - rest) return 0
  const share = (at - rest) / (pull - 2 * rest)
  return 80 * (0.95 * share + 0.05 * ((share * 40) % 1))
}

/** A pull a minute on ten equal elements, which break one after another: ten drops a minute. */
const tenDrops: Force = i => {
  const pull = 60_000
  const rest = 4_000
  const elements = 10
  const at = i % pull
  if (at < rest || at >= pull - rest) return 0
  const stretch = (at - rest) / (pull - 2 * rest)
  let left = 0
  // Not at even intervals: else every break would fall on the edge of a block of samples.
  for (let k = 0; k < elements; k++)
    if (
      stretch <
      0.4 + (0.6 * (k + 0.8 + 2 * noise[(97 * Math.floor(i / pull) + 13 * k) % 8191]!)) / elements
    )
      left++
  return (200 * stretch * left) / elements
}

function writeLog(path: string, samples: number, force: Force): void {
  const file = openSync(path, 'w')
  let text = 'time_s,force_N\n'
  for (let i = 0; i < samples; i++) {
    text += `${(i / RATE_HZ).toFixed(3)},${(force(i) + noise[(i * 31) % 8191]!).toFixed(2)}\n`
    if (text.length > 1 << 20) {
      writeSync(file, text)
      text = ''
    }
  }
  writeSync(file, text)
  closeSync(file)
}

/** Seconds that a whole process takes; its output is kept only to see that it worked. */
function secondsOf(command: string, args: readonly string[]): { seconds: number; out: string } {
  const from = process.hrtime.bigint()
  const ran = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1 << 28 })
  const seconds = Number(process.hrtime.bigint() - from) / 1e9
  if (ran.status !== 0) throw new Error(`${command} ${args.join(' ')} failed: ${ran.stderr || ran.error}`)
  return { seconds, out: ran.stdout }
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!

const readLog = (path: string): number => secondsOf(process.execPath, [cli, 'read', '--json', path]).seconds

function hasScipy(): boolean {
  return spawnSync('python3', ['-c', 'import numpy, scipy']).status === 0
}

const shown = (seconds: number): string => `${seconds.toFixed(2)} s`.padStart(9)

function linearity(log: string): void {
  console.log('linearity: whole process, one run each')
  for (const samples of [10_000, 100_000, 1_000_000, 3_000_000, 10_000_000, 30_000_000]) {
    if (samples > most) return
    writeLog(log, samples, sawTooth)
    const seconds = readLog(log)
    const megabytes = statSync(log).size / 1e6
    console.log(
      `  ${String(samples).padStart(9)} samples ${shown(seconds)}  ${((1e9 * seconds) / samples).toFixed(0).padStart(6)} ns a sample  ${(megabytes / seconds).toFixed(0).padStart(4)} MB/s`,
    )
  }
}

/** Turn about, so that a busy machine slows both. */
function againstScipy(log: string, samples: number): void {
  writeLog(log, samples, tenDrops)
  readLog(log)
  const pairs = Array.from({ length: repeats }, () => {
    const ours = readLog(log)
    const { seconds, out } = secondsOf('python3', [scipy, log])
    return { ours, whole: seconds, work: Number(out.trim()) }
  })
  const against = (of: 'whole' | 'work'): string => {
    const times = pairs.map(p => p[of] / p.ours).sort((a, b) => a - b)
    return `${shown(median(pairs.map(p => p[of])))}: ${median(times).toFixed(2)} times as fast, ${times[0]!.toFixed(2)} to ${times.at(-1)!.toFixed(2)} in ${repeats} pairs`
  }
  console.log(`end to end: ${samples} samples, ten drops a minute`)
  console.log(`  tenterhook read, whole process     ${shown(median(pairs.map(p => p.ours)))}`)
  console.log(`  numpy and SciPy, whole process     ${against('whole')} (target 2.5 in every pair)`)
  console.log(`  numpy and SciPy, their work alone  ${against('work')}`)
}

function shortLog(log: string): void {
  writeLog(log, 5000, sawTooth)
  const bare = () => secondsOf(process.execPath, ['-e', '0']).seconds
  const pairs = Array.from({ length: 15 }, () => ({ ours: readLog(log), bare: bare() }))
  const ours = median(pairs.map(p => p.ours))
  const node = median(pairs.map(p => p.bare))
  console.log(
    `short log: 5,000 lines ${(1000 * ours).toFixed(0)} ms, bare node ${(1000 * node).toFixed(0)} ms: ${(ours / node).toFixed(2)} starts (target under 4)`,
  )
}

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-bench-'))
const log = join(folder, 'log.csv')
try {
  linearity(log)
  if (hasScipy())
    for (const samples of [3_000_000, 10_000_000]) if (samples <= most) againstScipy(log, samples)
  shortLog(log)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
