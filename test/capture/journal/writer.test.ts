import { setTimeout as after } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { type Journal, startJournal } from '../../../src/capture/journal/writer.ts'
import { memoryFiles } from '../memoryFiles.ts'

/** Writes during which more comes each time. */
const BUSY_WRITES = 60

test('what is written is synced while more and more comes, not only once all is written', async () => {
  let writes = 0
  const syncedAfter: number[] = []
  let journal: Journal | null = null
  const files = {
    ...memoryFiles(),
    create: async () => ({
      async append(bytes: Uint8Array) {
        if (++writes < BUSY_WRITES) journal?.append(Uint8Array.of(1, 2, 3))
        await after(5)
        return bytes.length
      },
      async sync() {
        syncedAfter.push(writes)
      },
      touch: async () => {},
      close: async () => {},
    }),
  }
  journal = startJournal({ files, folder: '/j', id: 'a', header: Uint8Array.of(9), onTrouble: () => {} })
  journal.append(Uint8Array.of(1))
  await expect.poll(() => writes, { timeout: 10_000 }).toBeGreaterThanOrEqual(BUSY_WRITES)
  expect(syncedAfter.filter(count => count < BUSY_WRITES).length).toBeGreaterThan(1)
  expect(await journal.end()).toBeNull()
})
