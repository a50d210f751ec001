import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdir, mkdtemp, readdir, rm, stat, truncate } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as after } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { ran } from '../cli/fakeIo.ts'
import { bundled } from './bundle.ts'
import { limitedDisk, mayMount, type SmallDisk, tmpfsDisk } from './noRoom.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
/** Longer than several attempts to write. */
const ATTEMPTS_MS = 3_500

let built = ''
let cli = ''
beforeAll(async () => {
  // Within the project, so that the native modules are found.
  const folder = join(root, 'node_modules', '.tenterhook-test')
  await mkdir(folder, { recursive: true })
  built = await mkdtemp(join(folder, 'full-'))
  cli = await bundled('../../src/cli/main.ts', built)
}, 120_000)
afterAll(() => rm(built, { recursive: true, force: true }))

let disk: SmallDisk
let child: ChildProcess | null = null
afterEach(async () => {
  child?.kill('SIGKILL')
  await disk.remove()
})

function record(...more: string[]) {
  const words = [process.execPath, cli, 'record', '--stdin', '--json', '--store', disk.folder, ...more]
  const [command, ...rest] = disk.command(words) as [string, ...string[]]
  const run = spawn(command, rest, { stdio: ['pipe', 'pipe', 'pipe'] })
  child = run
  let out = ''
  let err = ''
  run.stdout.on('data', chunk => {
    out += chunk
  })
  run.stderr.on('data', chunk => {
    err += chunk
  })
  const closed = once(run, 'close')
  let sent = 0
  run.stdin.write('time_ms,force_N\n')
  return {
    pid: run.pid as number,
    out: () => out,
    err: () => err,
    says: (words: string | RegExp) => expect.poll(() => err, { timeout: 30_000 }).toMatch(words),
    async send(count: number) {
      for (const to = sent + count; sent < to; ) {
        const lines = Array.from({ length: 50 }, () => `${sent * 2},${((sent++ % 1000) / 10).toFixed(1)}\n`)
        run.stdin.write(lines.join(''))
        await after(5)
      }
    },
    hangUp: () => run.stdin.end(),
    signal: (name: NodeJS.Signals) => run.kill(name),
    isRunning: () => run.exitCode === null,
    code: async () => (await closed)[0] as number,
  }
}

async function filledWhileRecording(...more: string[]) {
  const run = record(...more)
  await run.says(/recording/)
  await run.send(2_000)
  await disk.fill(run.pid)
  await run.send(3_000)
  return run
}

const ways: [string, () => Promise<SmallDisk | null>][] = [
  ['under a limit for files', limitedDisk],
  // Everyone else has the way above.
  ...(mayMount ? [['on a disk in memory', tmpfsDisk] as [string, typeof tmpfsDisk]] : []),
]

for (const [where, made] of ways) {
  test(`${where}: full while it records, and still at the end: it waits, says so, and freeing space is enough`, async () => {
    disk = (await made()) as SmallDisk
    const run = await filledWhileRecording()
    await run.says(/capture goes on in memory/)
    run.hangUp()
    await run.says(/in memory alone: it is not kept yet/)
    await run.says(/Press Ctrl-C twice/)
    await after(ATTEMPTS_MS)
    expect(run.isRunning()).toBe(true)
    expect(run.err()).not.toMatch(/safe|SQLITE|sqlite_|no transaction/i)
    expect(run.out()).toBe('')
    await disk.free(run.pid)
    expect(await run.code(), run.err()).toBe(0)
    expect(JSON.parse(run.out()).recording).toMatchObject({ samples: 5_000, state: 'complete' })
    expect(await readdir(join(disk.folder, 'journals'))).toEqual([])
    expect((await ran(['verify', '--store', disk.folder])).out).toMatch(/^Sound: 1 recordings, 5000 samples/)
  })

  test(`${where}: what is in memory alone is given up only when told twice, and what is lost is said`, async () => {
    disk = (await made()) as SmallDisk
    const run = await filledWhileRecording()
    await run.says(/capture goes on in memory/)
    run.hangUp()
    await run.says(/Press Ctrl-C twice/)
    run.signal('SIGINT')
    await run.says(/Ctrl-C once more/)
    expect(run.isRunning()).toBe(true)
    run.signal('SIGINT')
    expect(await run.code()).toBe(4)
    expect(run.err()).toMatch(/given up: the last \d+ bytes of the recording are lost/)
    // What the disk had by then is taken in by the next command, once there is room.
    await disk.free(run.pid).catch(() => {})
    const listed = await ran(['list', '--json', '--store', disk.folder])
    expect(listed.err).toMatch(/recovered .* from a capture that was cut off/)
    expect(JSON.parse(listed.out).recordings[0].samples).toBeGreaterThan(1_500)
  })
}

test.runIf(mayMount)(
  'a spare folder on another disk is used at once; its journal is taken in later',
  async () => {
    disk = (await tmpfsDisk()) as SmallDisk
    const spare = await mkdtemp(join(tmpdir(), 'tenterhook-spare-'))
    try {
      const run = await filledWhileRecording('--spare', spare)
      await run.says(/the recording goes on in .*tenterhook-spare-/)
      run.hangUp()
      expect(await run.code(), run.err()).toBe(4)
      expect(run.err()).toMatch(/not in the store\. It is whole on the disk, in .*tenterhook-spare-.*import/)
      await disk.free(run.pid)
      const [name] = await readdir(spare)
      const imported = await ran(['import', '--json', join(spare, `${name}`), '--store', disk.folder])
      expect(JSON.parse(imported.out).files[0]).toMatchObject({ isNew: true, samples: 5_000 })
    } finally {
      await rm(spare, { recursive: true, force: true })
    }
  },
)

test.runIf(mayMount)(
  'whole in its journal but not in the store: it waits, says so, and takes one Ctrl-C for a slip',
  async () => {
    disk = (await tmpfsDisk()) as SmallDisk
    const run = record()
    await run.says(/recording/)
    await run.send(500)
    await after(500)
    await disk.fill(run.pid)
    // A page for the end of the journal; the store needs more.
    const filler = join(disk.folder, 'filler')
    await truncate(filler, (await stat(filler)).size - 4_096)
    run.hangUp()
    await run.says(/whole on the disk, in its journal; waiting until the store takes it/)
    await after(ATTEMPTS_MS)
    expect(run.isRunning()).toBe(true)
    run.signal('SIGINT')
    await run.says(/Ctrl-C once more leaves it in its journal/)
    expect(run.isRunning()).toBe(true)
    expect(run.out()).toBe('')
    await disk.free(run.pid)
    expect(await run.code(), run.err()).toBe(0)
    expect(JSON.parse(run.out()).recording).toMatchObject({ samples: 500, state: 'complete' })
  },
)

test.runIf(mayMount)('a disk that is full from the start is told before anything is recorded', async () => {
  disk = (await tmpfsDisk()) as SmallDisk
  await disk.fill(0)
  const run = record()
  expect(await run.code()).toBe(4)
  expect(run.err()).toMatch(/the disk is full|has room for about \d+ s of recording/)
  expect(run.err()).not.toContain('recording, ')
})
