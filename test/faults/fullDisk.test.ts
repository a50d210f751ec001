import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { leftIn } from '../capture/journaled.ts'
import { bundled } from './bundle.ts'
import { saidReady } from './kills.ts'
import { mayMount, type SmallDisk, tmpfsDisk } from './noRoom.ts'

/** Blocks of 1,024 bytes that the recorder may write to a file. */
const BLOCKS = 64

let folder = ''
let script = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-full-'))
  script = await bundled('captureChild.ts', folder)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

interface Recording {
  readonly child: ChildProcess
  /** What it told of its alarms and its end. */
  readonly said: () => string
  /** Sends samples until it has said so. Gives how many were sent by then. */
  until(words: string): Promise<number>
  /** Ends the input, and waits for the end. */
  end(): Promise<void>
}

async function recording(command: string, words: readonly string[]): Promise<Recording> {
  const child = spawn(command, words, { stdio: ['pipe', 'pipe', 'pipe'] })
  child.stdout.resume()
  let said = ''
  child.stderr.on('data', chunk => {
    said += chunk
  })
  await saidReady(child)
  child.stdin.write('time_ms,force_N\n')
  let sent = 0
  return {
    child,
    said: () => said,
    async until(wanted) {
      while (!said.includes(wanted)) {
        const lines = Array.from({ length: 50 }, () => `${sent * 2},${(sent++ % 1000) / 10}\n`)
        child.stdin.write(lines.join(''))
        await new Promise(resolve => setTimeout(resolve, 5))
        if (sent > 100_000) throw new Error(`“${wanted}” was not said after ${sent} samples: ${said}`)
      }
      return sent
    },
    async end() {
      child.stdin.end()
      await once(child, 'close')
    },
  }
}
const forces = (count: number): number[] => Array.from({ length: count }, (_, i) => (i % 1000) / 10)

test('a file that may not grow further: said at once, what was journaled stays, the recording ends whole', async () => {
  const journals = join(folder, 'limited')
  // The system's limit for the size of a file stands in for a full disk; it needs no rights to set.
  const limited = `trap '' XFSZ; ulimit -f ${BLOCKS}; exec "$0" "$@"`
  const run = await recording('bash', ['-c', limited, process.execPath, script, journals])
  const sent = await run.until('not-on-disk')
  expect(run.said()).toMatch(
    /not-on-disk false: the file has reached the size that the system allows\. What was written so far stays/,
  )
  expect((await readdir(journals))[0]).toMatch(/\.journal$/)
  await run.end()
  expect(run.said()).toContain(`finished ${sent}`)
  const { captured } = await leftIn(journals)
  const { forceN } = captured[0]!.recording
  expect(forceN.length).toBeGreaterThan(1_000)
  expect(forceN.length).toBeLessThan(sent)
  expect([...forceN]).toEqual(forces(forceN.length))
})

// Only the system's administrator may mount; the test above shows a disk that takes no more to everyone else.
test.runIf(mayMount)(
  'a disk that is full: said at once; once there is room again all is caught up with, and nothing is lost',
  async () => {
    const disk = (await tmpfsDisk()) as SmallDisk
    const journals = join(disk.folder, 'journals')
    try {
      const run = await recording(process.execPath, [script, journals])
      await disk.fill(0)
      await run.until('not-on-disk false')
      expect(run.said()).toMatch(/not-on-disk false: the disk is full\. What was written so far stays/)
      const before = await leftIn(journals)
      // It is being written by another process, and known to be.
      expect(before.inUse).toHaveLength(1)
      await disk.free(0)
      const sent = await run.until('not-on-disk true')
      run.child.kill('SIGKILL')
      await once(run.child, 'close')
      const { captured } = await leftIn(journals)
      const { forceN } = captured[0]!.recording
      // What was sent just before the kill need not have arrived.
      expect(forceN.length).toBeGreaterThan(sent - 2_000)
      expect([...forceN]).toEqual(forces(forceN.length))
    } finally {
      await disk.remove()
    }
  },
)
