import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, expect, test } from 'vitest'

const launcher = fileURLToPath(new URL('../../bin/tenterhook.js', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'tenterhook-long-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** A log that is long enough to be read with large pages, where the system gives them: most of it is remarks. */
function longLog(name: string): string {
  const path = join(folder, name)
  const rows = Array.from({ length: 400 }, (_, i) => `${i / 10},${i < 100 || i > 300 ? 0 : (i - 100) / 4}\n`)
  const remarks = `# ${'-'.repeat(4000)}\n`.repeat(13_000)
  writeFileSync(path, `time_s,force_N\n${rows.join('')}${remarks}`)
  return path
}

const run = (env: Record<string, string>, ...args: string[]) =>
  spawnSync(process.execPath, [launcher, ...args], {
    encoding: 'utf8',
    env: { ...process.env, ...env },
    timeout: 60_000,
  })

test('a long log is read the same, with large pages and without', () => {
  const path = longLog('long.csv')
  const large = run({}, 'read', '--json', path)
  const small = run({ GLIBC_TUNABLES: 'glibc.malloc.check=0' }, 'read', '--json', path)
  expect(large.status).toBe(0)
  expect(JSON.parse(large.stdout).recording.samples).toBe(400)
  expect(large.stdout).toBe(small.stdout)
})

test('the exit code of a command that was started once more is its own', () => {
  expect(run({}, 'read', '--force', 'torque', longLog('odd.csv')).status).toBe(3)
  expect(run({}, 'read', '--no-such-option', longLog('odd.csv')).status).toBe(2)
})
