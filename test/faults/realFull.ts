import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as after } from 'node:timers/promises'
import { expect } from 'vitest'
import { leftIn } from '../capture/journaled.ts'
import { bundled } from './bundle.ts'
import { dice, dueAt, fedRecorder, forceSent, nowUs } from './kills.ts'
import { limitedDisk, mayMount, type SmallDisk, tmpfsDisk } from './noRoom.ts'

/**
 * Which disk is filled: one in memory where it may be mounted, else a limit for the size of the recorder’s
 * files.
 */
export const FILLED = mayMount
  ? 'a disk in memory (tmpfs)'
  : 'a limit for the size of files (prlimit), as nobody may mount here'

/** What came of recordings on disks that were filled. */
export interface Filled {
  /** Samples that had to be there, and were. */
  due: number
  /** Recordings that ended whole on the disk, once there was room. */
  kept: number
  /** Recorders that were killed while the disk was full. */
  killed: number
}

/**
 * Fills the disk under so many recorders, processes of their own, in mid-recording: each at another moment.
 */
export async function filled(seed: number, count: number, sideBySide: number): Promise<Filled> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-filled-'))
  const all: Filled = { due: 0, kept: 0, killed: 0 }
  try {
    const script = await bundled('captureChild.ts', folder)
    for (let from = 0; from < count; from += sideBySide)
      await Promise.all(
        Array.from({ length: Math.min(sideBySide, count - from) }, (_, i) =>
          filledOnce(script, seed + from + i, all),
        ),
      )
    return all
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/**
 * Half of them are freed again and must end whole; the others are killed while the disk is full: what was due
 * before it was is there, and that it takes no more had been said.
 */
async function filledOnce(script: string, seed: number, all: Filled): Promise<void> {
  const random = dice(seed)
  const label = `seed ${seed}`
  const disk = (mayMount ? await tmpfsDisk() : await limitedDisk()) as SmallDisk
  const journals = join(disk.folder, 'journals')
  const fed = await fedRecorder(disk.command([process.execPath, script, journals]), [2, 5, 12][seed % 3]!)
  try {
    const pid = fed.child.pid!
    await after(300 + 700 * random())
    const filledUs = nowUs()
    await disk.fill(pid)
    const said = (words: string) =>
      expect.poll(() => fed.told().said, { timeout: 30_000, message: label }).toContain(words)
    await said('not-on-disk false')
    await after(300 * random())
    if (seed % 2 === 0) {
      await disk.free(pid)
      await said('not-on-disk true')
      fed.stop()
      fed.child.stdin?.end()
      await once(fed.child, 'close')
      expect(fed.told().said, label).toContain(`finished ${fed.sent()}`)
      all.due += await there(journals, fed.sent(), label)
      all.kept++
    } else {
      fed.stop()
      fed.child.kill('SIGKILL')
      await once(fed.child, 'close')
      const due = dueAt(fed.told().reads, filledUs)
      await there(journals, due, label)
      all.due += due
      all.killed++
    }
  } finally {
    fed.stop()
    fed.child.kill('SIGKILL')
    await disk.remove()
  }
}

/** At least so many samples, the first that were sent, each as it was. */
async function there(journals: string, least: number, label: string): Promise<number> {
  const { captured } = await leftIn(journals)
  const forceN = captured[0]?.recording.forceN ?? new Float64Array()
  expect(forceN.length, label).toBeGreaterThanOrEqual(least)
  expect([...forceN], label).toEqual(Array.from({ length: forceN.length }, (_, i) => forceSent(i)))
  return forceN.length
}
