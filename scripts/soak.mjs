// `npm run test:soak`: records 1,000 samples a second for ten minutes and looks whether memory stays flat and
// nothing is lost. Outside the checks, since it takes as long as it says. SOAK_SECONDS makes it shorter,
// SOAK_RATE faster. `npm run test:soak -- faults`: all 1,000 faults that the slow suite takes a sample of:
// full disks, power cuts that drop what was not synced, failing syncs, devices pulled out, clock jumps; kills
// and full disks of processes of their own.
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { runnerImport } from 'vite'
import { root } from './prepare.mjs'

const [what] = process.argv.slice(2)
if (what === undefined)
  await runnerImport(`${root}/test/faults/soak.ts`, { root, configFile: false, logLevel: 'error' })
else if (what === 'faults') {
  const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs')
  const files = ['manyFaults', 'kill', 'realFull'].map(name => `test/faults/${name}.slow.test.ts`)
  const env = { ...process.env, TENTERHOOK_SLOW: '1', TENTERHOOK_ALL_FAULTS: '1' }
  process.exitCode =
    spawnSync(process.execPath, [vitest, 'run', ...files], { cwd: root, env, stdio: 'inherit' }).status ?? 1
} else {
  console.error('usage: npm run test:soak, or npm run test:soak -- faults')
  process.exitCode = 2
}
