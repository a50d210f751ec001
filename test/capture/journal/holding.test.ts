import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Journal, startJournal } from '../../../src/capture/journal/writer.ts'
import { memoryFiles } from '../memoryFiles.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

const HEAD = new TextEncoder().encode('tenterhook journal 2\n')

function journalOn(files = memoryFiles()) {
  const troubles: (string | null)[] = []
  const journal = startJournal({
    files,
    folder: '/j',
    id: 'a',
    header: Uint8Array.of(0),
    onTrouble: problem => troubles.push(problem?.what ?? null),
  })
  return { files, journal, troubles }
}
/** Takes the bytes 1 to `count`, one every millisecond. */
async function take(journal: Journal, from: number, to: number): Promise<void> {
  for (let i = from; i <= to; i++) {
    journal.append(Uint8Array.of(i))
    await vi.advanceTimersByTimeAsync(1)
  }
}
const upTo = (count: number) => [...HEAD, 0, ...Array.from({ length: count }, (_, i) => i + 1)]

test('a sync that fails may have lost what was written: it is written again, each byte once and in order', async () => {
  const { files, journal, troubles } = journalOn()
  await take(journal, 1, 100)
  files.badSyncs = 3
  await take(journal, 101, 200)
  expect(journal.heldBytes).toBeGreaterThan(0)
  await vi.advanceTimersByTimeAsync(10_000)
  expect(journal.heldBytes).toBe(0)
  expect(troubles).toEqual([expect.stringContaining('the disk reports an error'), null])
  files.cutPower(0)
  expect([...(await files.read('/j/a.journal'))]).toEqual(upTo(200))
})

test('after its end it goes on trying, and is called on the disk only when it is', async () => {
  const { files, journal } = journalOn()
  await take(journal, 1, 50)
  await vi.advanceTimersByTimeAsync(200)
  files.room = 10
  await take(journal, 51, 120)
  const ended = journal.end()
  await vi.advanceTimersByTimeAsync(100)
  expect((await ended)?.what).toContain('the disk is full')
  let isOnDisk = false
  void journal.onDisk.then(() => {
    isOnDisk = true
  })
  await vi.advanceTimersByTimeAsync(60_000)
  expect({ isOnDisk, held: journal.heldBytes > 0 }).toEqual({ isOnDisk: false, held: true })
  // All of it is to be had meanwhile.
  expect([...(await journal.kept())]).toEqual(upTo(120))
  files.room = Number.POSITIVE_INFINITY
  await vi.advanceTimersByTimeAsync(2_000)
  expect({ isOnDisk, heldBytes: journal.heldBytes }).toEqual({ isOnDisk: true, heldBytes: 0 })
  files.cutPower(0)
  expect([...(await files.read('/j/a.journal'))]).toEqual(upTo(120))
})

test('moved to another folder while it is written: nothing is lost or doubled, and the first file goes', async () => {
  const { files, journal, troubles } = journalOn()
  await take(journal, 1, 60)
  files.room = 0
  await take(journal, 61, 90)
  await vi.advanceTimersByTimeAsync(100)
  files.room = Number.POSITIVE_INFINITY
  const moved = journal.moveTo('/other')
  await take(journal, 91, 140)
  expect(await moved).toBeNull()
  await take(journal, 141, 200)
  const ended = journal.end()
  await vi.advanceTimersByTimeAsync(500)
  expect(await ended).toBeNull()
  expect(await files.list('/j')).toEqual([])
  expect(journal.path).toBe('/other/a.journal')
  expect([...(await files.read('/other/a.journal'))]).toEqual(upTo(200))
  expect(troubles.at(-1)).toBeNull()
})

test('a folder that may not be written to is refused, and the journal stays where it is', async () => {
  const { files, journal } = journalOn()
  await take(journal, 1, 20)
  const real = files.makeFolder
  files.makeFolder = async () => {
    throw Object.assign(new Error('no'), { code: 'EACCES' })
  }
  const moved = journal.moveTo('/other')
  await vi.advanceTimersByTimeAsync(100)
  expect((await moved)?.what).toContain('may not be written to')
  files.makeFolder = real
  await take(journal, 21, 40)
  await vi.advanceTimersByTimeAsync(200)
  expect([...(await files.read('/j/a.journal'))]).toEqual(upTo(40))
})

test('a file that has become shorter is never padded: it stays in trouble until it is moved', async () => {
  const { files, journal, troubles } = journalOn()
  await take(journal, 1, 50)
  await vi.advanceTimersByTimeAsync(200)
  await files.remove('/j/a.journal')
  files.badSyncs = 1
  await take(journal, 51, 60)
  await vi.advanceTimersByTimeAsync(5_000)
  expect(journal.trouble?.what).toContain('has become shorter')
  expect(troubles).not.toContain(null)
  expect(journal.heldBytes).toBeGreaterThanOrEqual(10)
})
