import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type LiveMessage, openSession } from '../../../src/capture/index.ts'
import { good } from '../../store/stores.ts'
import { handSource } from '../handSource.ts'
import { memoryFiles } from '../memoryFiles.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

/** When figures were sent, in ms, of a line that says a sample at each of these moments. */
async function sentMs(saidMs: readonly number[]) {
  const line = handSource()
  const session = good(await openSession({ source: line, journals: '/j', files: memoryFiles() }))
  const sent: number[] = []
  let samples = 0
  // The first lines tell what the columns are.
  for (let i = 0; i < 20; i++) {
    line.say(`${i},1.00kg\n`)
    await vi.advanceTimersByTimeAsync(12)
  }
  const began = performance.now()
  session.subscribe((message: LiveMessage) => {
    if (message.kind === 'samples') samples += message.batch.timeS.length
    if (message.kind === 'figures') sent.push(performance.now() - began)
  })
  for (let ms = 0; ms <= 100; ms++) {
    if (saidMs.includes(ms)) line.say(`${240 + ms},1.00kg\n`)
    await vi.advanceTimersByTimeAsync(1)
  }
  await session.close()
  return { sent, samples }
}

test('a sample of a slow line is sent on in the moment it comes', async () => {
  const saidMs = Array.from({ length: 8 }, (_, i) => 12 * i)
  expect(await sentMs(saidMs)).toEqual({ sent: saidMs, samples: 8 })
})

test('a fast line is sent on every 4 ms, and nothing of it waits longer or is left out', async () => {
  const { sent, samples } = await sentMs(Array.from({ length: 81 }, (_, ms) => ms))
  expect(samples).toBe(81)
  expect(sent).toEqual(Array.from({ length: 22 }, (_, i) => 4 * i))
})
