import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Session } from '../../../src/capture/index.ts'
import type { CaptureState } from '../../../src/capture/state.ts'
import { liveReadings } from '../../../src/server/desk/liveReadings.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

const state = (phase: CaptureState['phase'], pulls: number, pulling: boolean) =>
  ({ phase, pulls, pulling }) as CaptureState

/** A recording that runs, each reading of which takes `readMs`; `begunMs`: when each began. */
function bench(readMs: number) {
  const began = performance.now()
  const begunMs: number[] = []
  let now = state('recording', 0, false)
  const session = {
    source: { kind: 'pretend', name: 'line' },
    snapshot: () => ({ state: now, figures: { samples: 1_000 } }),
    soFar: async () => ({
      ok: true,
      value: {
        journal: { path: '/j/a.journal', writtenBytes: 0, held: new Uint8Array(0) },
        lastSampleS: 10,
      },
    }),
  } as unknown as Session
  const told: number[] = []
  const readings = liveReadings(
    session,
    async () => {
      begunMs.push(performance.now() - began)
      await new Promise(resolve => setTimeout(resolve, readMs))
      return {
        ok: true,
        value: { endS: 9.5, reading: { ok: false, problems: [] } },
      }
    },
    ({ toLiveS }) => told.push(toLiveS),
  )
  const take = (next: CaptureState): void => {
    now = next
    readings.take({ kind: 'state', atS: 0, state: next } as Parameters<typeof readings.take>[0])
  }
  return {
    begunMs,
    told,
    readings,
    /** A pull of one second, then a rest of so long. */
    async pull(pulls: number, restMs: number) {
      take(state('recording', pulls, true))
      await vi.advanceTimersByTimeAsync(1_000)
      take(state('rest', pulls, false))
      await vi.advanceTimersByTimeAsync(restMs)
    },
    take,
  }
}

test('a pull that has ended is read at once, and again after 1.5 s of rest', async () => {
  const { begunMs, told, pull } = bench(20)
  await pull(1, 5_000)
  expect(begunMs).toEqual([1_000, 2_500])
  expect(told).toEqual([0.5, 0.5])
})

test('where the next pull begins sooner it is not read again', async () => {
  const { begunMs, pull } = bench(20)
  await pull(1, 1_000)
  await pull(2, 1_000)
  expect(begunMs).toEqual([1_000, 3_000])
})

test('a reading that took long is made again only after five times as long', async () => {
  const { begunMs, pull } = bench(800)
  await pull(1, 5_000)
  await pull(2, 3_900)
  // Of the next pull nothing is read again: its rest is shorter than that.
  await pull(3, 5_000)
  expect(begunMs).toEqual([1_000, 2_500, 7_000, 11_900, 15_900])
})

test('what one recording took is not held against the next', async () => {
  const { begunMs, pull, take } = bench(800)
  await pull(1, 5_000)
  take(state('armed', 0, false))
  await pull(1, 5_000)
  expect(begunMs).toEqual([1_000, 2_500, 7_000, 8_500])
})

test('what cannot be read is not told', async () => {
  const { readings, told, pull } = bench(20)
  expect((await Promise.all([readings.now(), vi.advanceTimersByTimeAsync(50)]))[0].ok).toBe(true)
  expect(readings.last).toBeNull()
  await pull(1, 100)
  expect(readings.last).not.toBeNull()
  expect(told).toHaveLength(1)
})
