import { spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { seededRandom } from '../src/core/statistics/random.ts'

/**
 * How fast many recordings are compared, as a whole process on the built command line:
 * 1,000 logs of 5,000 samples in 5 variants, read and compared (target: under 10 s on two cores, with progress shown).
 * Run: `npm run bench compare`; BENCH_LOGS=100 makes it shorter.
 */
const root = fileURLToPath(new URL('..', import.meta.url))
const cli = process.env.TENTERHOOK_CLI ?? join(root, 'bin', 'tenterhook.js')
const logs = Number(process.env.BENCH_LOGS ?? 1000)
const SAMPLES = 5000
const RATE_HZ = 100
const VARIANTS = ['paste', 'glue', 'stitch', 'rivet', 'weld']

/** A rest, a ramp with a few partial breaks, a break, a rest; in kgf as a cheap indicator prints it. */
function logText(peakKgf: number, normal: () => number): string {
  const rows = ['time,force (kgf)']
  for (let i = 0; i < SAMPLES; i++) {
    const at = (i - 500) / (SAMPLES - 1000)
    const tooth = (at * 8) % 1
    const force = at < 0 || at >= 1 ? 0 : peakKgf * (0.9 * at + 0.1 * tooth)
    rows.push(`${(i / RATE_HZ).toFixed(2)},${(force + 0.004 * normal()).toFixed(3)}`)
  }
  return `${rows.join('\n')}\n`
}

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-bench-'))
try {
  const { normal } = seededRandom(1)
  mkdirSync(join(folder, 'logs'))
  const files = Array.from({ length: logs }, (_, i) => {
    const variant = VARIANTS[i % VARIANTS.length]!
    const path = join(folder, 'logs', `${variant}-${i + 1}.csv`)
    writeFileSync(path, logText(8 + (i % VARIANTS.length) * 0.3 + 0.7 * normal(), normal))
    return path
  })
  for (let repeat = 0; repeat < 3; repeat++) {
    const begun = performance.now()
    const { seconds, progressLines } = await timed(files, begun)
    console.log(
      `${logs} logs of ${SAMPLES} samples compared: ${seconds.toFixed(2)} s, progress told ${progressLines} times`,
    )
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}

function timed(files: readonly string[], begun: number): Promise<{ seconds: number; progressLines: number }> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [cli, 'compare', '--json', ...files], {
      stdio: ['ignore', 'ignore', 'pipe'],
    })
    let told = 0
    child.stderr.on('data', (chunk: Buffer) => {
      told += chunk.toString().split('\n').length - 1
    })
    child.on('error', fail)
    child.on('close', code =>
      code === 0
        ? done({ seconds: (performance.now() - begun) / 1000, progressLines: told })
        : fail(new Error(`compare ended with ${code}`)),
    )
  })
}
