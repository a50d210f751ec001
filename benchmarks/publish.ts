import { spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * How long the report of the demo's 15 specimens takes, as a whole process on the built command line, logs read and
 * compared in it (target: under 3 s), and one whose name has letters that the PDF must be printed by a browser for.
 * Run: `npm run bench publish`.
 */
const root = fileURLToPath(new URL('..', import.meta.url))
const cli = process.env.TENTERHOOK_CLI ?? join(root, 'bin', 'tenterhook.js')
const RUNS = 5

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-bench-'))
const run = (words: readonly string[]): number => {
  const start = performance.now()
  const done = spawnSync(process.execPath, [cli, ...words], { encoding: 'utf8' })
  if (done.status !== 0) throw new Error(`${words[0]}: ${done.stderr}`)
  return performance.now() - start
}

try {
  run(['demo', '--out', folder])
  const logs = readdirSync(folder)
    .filter(name => name.endsWith('.csv') && name !== 'specimens.csv')
    .map(name => join(folder, name))
  const study = ['--specimens', join(folder, 'specimens.csv'), ...logs]
  const cases: [string, string, string[]][] = [
    ['page', 'report.html', []],
    ['PDF', 'report.pdf', []],
    ['Markdown with its pictures', 'report.md', []],
    ['PDF, printed by a browser', 'printed.pdf', ['--name', 'Ручки пакетов']],
  ]
  for (const [what, file, more] of cases) {
    const out = join(folder, file)
    const times = Array.from({ length: RUNS }, () => run(['report', '--out', out, ...more, ...study])).sort(
      (a, b) => a - b,
    )
    const seconds = (ms: number | undefined): string => ((ms ?? 0) / 1000).toFixed(2)
    console.log(
      `${what.padEnd(28)}${seconds(times[Math.floor(RUNS / 2)])} s (best ${seconds(times[0])}, worst ${seconds(times.at(-1))}), ${(statSync(out).size / 1e6).toFixed(1)} MB`,
    )
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}
