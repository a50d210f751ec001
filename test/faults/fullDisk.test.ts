import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { recoverJournals } from '../../src/capture/index.ts'
import { bundled } from './bundle.ts'
import { saidReady } from './kills.ts'

/** Blocks of 1,024 bytes that the recorder may write to a file. */
const BLOCKS = 64

test('a file that may not grow further: said at once, what was journaled stays, the recording ends whole', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-full-'))
  try {
    const script = await bundled('captureChild.ts', folder)
    const journals = join(folder, 'journals')
    // The system's limit for the size of a file stands in for a full disk; it needs no rights to set.
    const limited = `trap '' XFSZ; ulimit -f ${BLOCKS}; exec "$0" "$@"`
    const child = spawn('bash', ['-c', limited, process.execPath, script, journals], {
      stdio: ['pipe', 'pipe', 'pipe'],
    })
    child.stdout.resume()
    let said = ''
    child.stderr.on('data', chunk => {
      said += chunk
    })
    await saidReady(child)
    child.stdin.write('time_ms,force_N\n')
    let sent = 0
    while (!said.includes('not-on-disk')) {
      const lines = Array.from({ length: 50 }, () => `${sent * 2},${(sent++ % 1000) / 10}\n`)
      child.stdin.write(lines.join(''))
      await new Promise(resolve => setTimeout(resolve, 5))
      expect(sent).toBeLessThan(100_000)
    }
    expect(said).toMatch(
      /not-on-disk false: the file has reached the size that the system allows\. What was written so far stays/,
    )
    // What was journaled can be recovered while it still runs, from a copy of the folder's state.
    const [name] = await readdir(journals)
    expect(name).toMatch(/\.journal$/)
    child.stdin.end()
    await once(child, 'close')
    expect(said).toContain(`finished ${sent}`)
    const { captured } = await recoverJournals(journals)
    const { forceN } = captured[0]!.recording
    expect(forceN.length).toBeGreaterThan(1_000)
    expect(forceN.length).toBeLessThan(sent)
    expect([...forceN]).toEqual(Array.from({ length: forceN.length }, (_, i) => (i % 1000) / 10))
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
})
