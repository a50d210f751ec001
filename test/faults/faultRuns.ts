import { expect, vi } from 'vitest'
import { NO_PLAN, openSession } from '../../src/capture/index.ts'
import { journalContents } from '../../src/capture/journal/entries.ts'
import { handSource } from '../capture/handSource.ts'
import { whole } from '../capture/journaled.ts'
import { type MemoryFiles, memoryFiles } from '../capture/memoryFiles.ts'
import { dice } from './kills.ts'

/**
 * What was said to the recorder so long before the power went must be on the disk, where the disk took it.
 */
const WITHIN_MS = 200
const STEP_MS = 5

export const FAULTS = ['full disk', 'power cut', 'failing sync', 'device pulled out', 'clock jump'] as const
type Fault = (typeof FAULTS)[number]

/** Counts over many runs, so that a test can see that they were about something. */
export interface Counted {
  /** Samples that had to be there, and were. */
  due: number
  /** Recordings of which it was said that all of them is on the disk, and it was. */
  kept: number
  /** Recordings of which it was said that they are not. */
  held: number
}

/**
 * One recording in the midst of which one or two faults come at seeded moments, on a disk that loses what was
 * not synced. Throws where a sample that was due is lost or changed, or where something is called kept that
 * is not. Timers are faked.
 */
export async function faulted(seed: number, counted: Counted): Promise<void> {
  const random = dice(seed * 7_919 + 1)
  const faults = new Set<Fault>([FAULTS[seed % FAULTS.length]!])
  if (random() < 0.4) faults.add(FAULTS[Math.floor(random() * FAULTS.length)]!)
  const label = `seed ${seed}: ${[...faults].join(', ')}`
  const files = memoryFiles()
  files.syncMs = [1, 5, 20, 60][seed % 4]!
  const line = handSource()
  let wallMs = Date.UTC(2026, 5, 1)
  const clock = { nowS: () => performance.now() / 1000, wall: () => new Date(wallMs) }
  const opened = await openSession({ source: line, journals: '/j', files, clock })
  if (!opened.ok) throw new Error(label)
  const { value: session } = opened
  const started = session.start(NO_PLAN)
  await vi.advanceTimersByTimeAsync(1)
  await started
  line.say('time_ms,force_N\n')

  const lengthMs = 300 + Math.floor(500 * random())
  const at = (): number => Math.floor((0.1 + 0.8 * random()) * lengthMs)
  const fullMs = faults.has('full disk') ? at() : Number.POSITIVE_INFINITY
  const freeMs = random() < 0.5 ? fullMs + 50 + 200 * random() : Number.POSITIVE_INFINITY
  const badMs = faults.has('failing sync') ? at() : Number.POSITIVE_INFINITY
  const lostMs = faults.has('device pulled out') ? at() : Number.POSITIVE_INFINITY
  const backMs = lostMs + 20 + 100 * random()
  let saidMs: number[] = []
  let isLost = false
  for (let nowMs = 0; nowMs < lengthMs; nowMs += STEP_MS) {
    if (nowMs >= fullMs) files.room = nowMs >= freeMs ? Number.POSITIVE_INFINITY : Math.min(files.room, 40)
    if (nowMs >= badMs && nowMs < badMs + STEP_MS) files.badSyncs = 1 + (seed % 3)
    if (faults.has('clock jump') && random() < 0.05) wallMs += (random() - 0.5) * 86_400_000
    if (!isLost && nowMs >= lostMs && nowMs < backMs) {
      isLost = true
      // Half a line: what is left of it is no sample.
      line.say(`${nowMs},9`)
      line.lose()
    }
    if (isLost && nowMs >= backMs) {
      isLost = false
      line.comeBack()
    }
    if (!isLost) {
      line.say(`${nowMs},${(saidMs.length % 997).toFixed(1)}\n`)
      saidMs = [...saidMs, nowMs]
    }
    await vi.advanceTimersByTimeAsync(STEP_MS)
  }

  if (faults.has('power cut')) {
    files.cutPower(random())
    const there = await valuesIn(files)
    expect(there, label).toEqual(saidMs.slice(0, there.length).map((_, i) => i % 997))
    // A disk that refused had said so: nothing was due from it.
    const mayLack = faults.has('full disk') || faults.has('failing sync')
    if (mayLack) expect(session.snapshot().alarms.length + there.length, label).toBeGreaterThan(0)
    else {
      const due = saidMs.filter(ms => ms <= lengthMs - STEP_MS - WITHIN_MS).length
      expect(there.length, label).toBeGreaterThanOrEqual(due)
      counted.due += due
    }
    void session.close()
    return
  }

  const finishing = session.finish()
  await vi.advanceTimersByTimeAsync(500)
  const { keeping, recording } = whole(await finishing)
  // Whatever the disk did, the recording that was made of it is whole.
  expect([...recording.forceN], label).toEqual(saidMs.map((_, i) => i % 997))
  counted.due += saidMs.length
  if (keeping.heldBytes > 0) {
    counted.held++
    expect(keeping.trouble, label).not.toBeNull()
    // Freeing space is enough.
    files.room = Number.POSITIVE_INFINITY
    files.badSyncs = 0
    await vi.advanceTimersByTimeAsync(5_000)
  }
  expect(keeping.heldBytes, label).toBe(0)
  files.cutPower(0)
  expect(await valuesIn(files), label).toEqual(saidMs.map((_, i) => i % 997))
  counted.kept++
  const closing = session.close()
  await vi.advanceTimersByTimeAsync(500)
  await closing
}

/** The samples in the only journal of the disk. */
async function valuesIn(files: MemoryFiles): Promise<number[]> {
  const [name] = await files.list('/j')
  if (name === undefined) return []
  const contents = journalContents(await files.read(`/j/${name}`))
  return [...(contents?.entries ?? [])].flatMap(entry =>
    entry.what === 'samples' ? Array.from(entry.block.values) : [],
  )
}
