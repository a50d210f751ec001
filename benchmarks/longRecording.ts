import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync } from 'node:fs'
import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { bundled } from '../test/faults/bundle.ts'

/**
 * The memory that long recordings take: 24 hours at 80 lines a second (bar: 300 MB), 8 hours at 1,000 (bar: 500 MB), each in
 * a process of its own, from the first line to the recording in the store. Lines come as fast as they can be taken in.
 * Run: `npm run bench longRecording`. BENCH_LONG=80x24,1000x8 says which; the store lies in BENCH_FOLDER.
 */
const wanted = (process.env.BENCH_LONG ?? '80x24,1000x8').split(',').map(one => one.split('x'))
const root = fileURLToPath(new URL('..', import.meta.url))
// Within the project, so that the native modules are found.
const builtIn = join(root, 'node_modules', '.tenterhook-test')
await mkdir(builtIn, { recursive: true })
const built = await mkdtemp(join(builtIn, 'long-'))
const folder = mkdtempSync(join(process.env.BENCH_FOLDER ?? tmpdir(), 'tenterhook-long-'))
try {
  const script = await bundled('../../benchmarks/longChild.ts', built)
  for (const [rateHz = '', hours = ''] of wanted) {
    console.log(`${hours} hours at ${rateHz} lines a second`)
    const run = spawn(process.execPath, [script, join(folder, `${rateHz}-${hours}`), rateHz, hours], {
      stdio: ['ignore', 'inherit', 'inherit'],
    })
    const [code] = (await once(run, 'close')) as [number]
    if (code !== 0) process.exitCode = 1
  }
} finally {
  await rm(folder, { recursive: true, force: true })
  await rm(built, { recursive: true, force: true })
}
