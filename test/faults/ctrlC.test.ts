import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { ran } from '../cli/fakeIo.ts'
import { bundled } from './bundle.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))

test('Ctrl-C finishes, saves and prints the reading', async () => {
  // Within the project, so that the native modules are found.
  const folder = join(root, 'node_modules', '.tenterhook-test')
  await mkdir(folder, { recursive: true })
  const store = await mkdtemp(join(tmpdir(), 'tenterhook-ctrl-c-'))
  const built = await mkdtemp(join(folder, 'cli-'))
  try {
    const cli = await bundled('../../src/cli/main.ts', built)
    const words = [
      'record',
      '--pretend',
      'hot-melt',
      '--seed',
      '2',
      '--store',
      store,
      '--specimen',
      'dots 1',
      '--json',
    ]
    const child = spawn(process.execPath, [cli, ...words], { stdio: ['ignore', 'pipe', 'pipe'] })
    let out = ''
    let err = ''
    child.stdout.on('data', chunk => {
      out += chunk
    })
    child.stderr.on('data', chunk => {
      err += chunk
    })
    while (!err.includes('samples')) {
      expect(child.exitCode, err).toBeNull()
      await new Promise(resolve => setTimeout(resolve, 20))
    }
    await new Promise(resolve => setTimeout(resolve, 2_500))
    // Meanwhile others see that it runs, take nothing from it, and may not put another store in its place.
    const listed = await ran(['list', '--json', '--store', store])
    expect(listed.err).toContain('a recording runs in another program')
    expect(JSON.parse(listed.out).recordings).toEqual([])
    const copy = join(built, 'copy.backup')
    expect((await ran(['backup', copy, '--store', store])).err).toContain(
      'a recording runs in another program',
    )
    const refused = await ran(['restore', copy, '--store', store])
    expect(refused.code).toBe(3)
    expect(refused.err).toMatch(/another program has the store open.*Stop it/)
    child.kill('SIGINT')
    const [code] = await once(child, 'close')
    expect(code, err).toBe(0)
    const told = JSON.parse(out)
    expect(told.recording).toMatchObject({ specimen: 'dots 1', study: 'Unsorted', state: 'complete' })
    expect(told.recording.samples).toBeGreaterThan(10)
    expect(await readdir(join(store, 'journals'))).toEqual([])
  } finally {
    await rm(built, { recursive: true, force: true })
    await rm(store, { recursive: true, force: true })
  }
})
