import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { seeded } from '../src/capture/pretend/random.ts'

/**
 * How fast a log is read, as whole processes on the built command line:
 *   end to end    10 million samples against numpy and SciPy in the same run, each with its start (target: 2.5 times
 *                 as fast); and against their work alone, without loading them, while ours keeps its start
 *   linearity     10 thousand to 30 million samples
 *   short log     5,000 lines against a bare `node -e 0` (target: under four of them)
 * Run: `npm run bench reading`; BENCH_SAMPLES=1000000 makes it shorter. SciPy is left out where python3 has none.
 */

const root = fileURLToPath(new URL('..', import.meta.url))
const cli = process.env.TENTERHOOK_CLI ?? join(root, 'bin', 'tenterhook.js')
const scipy = join(root, 'benchmarks', 'reading_scipy.py')
const most = Number(process.env.BENCH_SAMPLES ?? 30_000_000)
const repeats = 5

const RATE_HZ = 1000
/** One pull of the made-up log: rest, a ramp with 40 partial breaks, a break, rest. */
const PULL_SAMPLES = 500_000
const REST_SAMPLES = 50_000
const TEETH = 40
const PEAK_N = 80
const NOISE_N = 0.05

/** A saw-tooth by the sample, in newton, without noise. */
function forceAt(i: number): number {
  const at = i % PULL_SAMPLES
  if (at < REST_SAMPLES || at >= PULL_SAMPLES - REST_SAMPLES) return 0
  const share = (at - REST_SAMPLES) / (PULL_SAMPLES - 2 * REST_SAMPLES)
  const tooth = (share * TEETH) % 1
  return PEAK_N * (0.95 * share + 0.05 * tooth)
}

function writeLog(path: string, samples: number): void {
  const random = seeded(1)
  const noise = Float64Array.from({ length: 8191 }, () => random.normal(0, NOISE_N))
  const file = openSync(path, 'w')
  let text = 'time_s,force_N\n'
  for (let i = 0; i < samples; i++) {
    text += `${(i / RATE_HZ).toFixed(3)},${(forceAt(i) + noise[(i * 31) % 8191]!).toFixed(2)}\n`
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

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-bench-'))
const log = join(folder, 'log.csv')
const shown = (seconds: number): string => `${seconds.toFixed(2)} s`.padStart(9)
try {
  console.log('linearity: whole process, one run each')
  for (const samples of [10_000, 100_000, 1_000_000, 3_000_000, 10_000_000, 30_000_000].filter(
    n => n <= most,
  )) {
    writeLog(log, samples)
    const seconds = readLog(log)
    const megabytes = statSync(log).size / 1e6
    console.log(
      `  ${String(samples).padStart(9)} samples ${shown(seconds)}  ${((1e9 * seconds) / samples).toFixed(0).padStart(6)} ns a sample  ${(megabytes / seconds).toFixed(0).padStart(4)} MB/s`,
    )
    if (samples !== 10_000_000 || !hasScipy()) continue
    // Turn about, so that a busy machine slows both.
    const ours: number[] = []
    const theirs: number[] = []
    const theirsWhole: number[] = []
    for (let k = 0; k < repeats; k++) {
      ours.push(readLog(log))
      const { seconds, out } = secondsOf('python3', [scipy, log])
      theirs.push(Number(out.trim()))
      theirsWhole.push(seconds)
    }
    const against = (seconds: readonly number[]): string =>
      `${shown(median(seconds))}: ${(median(seconds) / median(ours)).toFixed(2)} times as fast`
    console.log(`end to end: tenterhook read, whole process ${shown(median(ours))}`)
    console.log(`  numpy and SciPy, whole process     ${against(theirsWhole)} (target 2.5)`)
    console.log(`  numpy and SciPy, their work alone  ${against(theirs)}`)
  }

  writeLog(log, 5000)
  const bare = () => secondsOf(process.execPath, ['-e', '0']).seconds
  const pairs = Array.from({ length: 15 }, () => ({ ours: readLog(log), bare: bare() }))
  const ours = median(pairs.map(p => p.ours))
  const node = median(pairs.map(p => p.bare))
  console.log(
    `short log: 5,000 lines ${(1000 * ours).toFixed(0)} ms, bare node ${(1000 * node).toFixed(0)} ms: ${(ours / node).toFixed(2)} starts (target under 4)`,
  )
} finally {
  rmSync(folder, { recursive: true, force: true })
}
