import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { readSoFar } from '../../../src/capture/journal/soFar.ts'
import { type Journal, startJournal } from '../../../src/capture/journal/writer.ts'
import { good } from '../../store/stores.ts'
import { memoryFiles } from '../memoryFiles.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

const HEAD = new TextEncoder().encode('tenterhook journal 2\n')
const upTo = (count: number) => [...HEAD, 0, ...Array.from({ length: count }, (_, i) => i + 1)]

/** A journal that has taken the bytes 1 to 100, one every millisecond. */
async function journalOf100() {
  const files = memoryFiles()
  const journal = startJournal({
    files,
    folder: '/j',
    id: 'a',
    header: Uint8Array.of(0),
    onTrouble: () => {},
  })
  await take(journal, 1, 100)
  return { files, journal }
}
async function take(journal: Journal, from: number, to: number): Promise<void> {
  for (let i = from; i <= to; i++) {
    journal.append(Uint8Array.of(i))
    await vi.advanceTimersByTimeAsync(1)
  }
}

test('a journal that goes on is read as it was, of the file and of what was held, each byte once', async () => {
  const { files, journal } = await journalOf100()
  const soFar = journal.soFar()
  expect(soFar.path).toBe('/j/a.journal')
  expect(soFar.writtenBytes).toBeGreaterThan(HEAD.length)
  expect(soFar.held.length).toBeGreaterThan(0)
  expect(soFar.writtenBytes + soFar.held.length).toBe(HEAD.length + 101)
  expect([...good(await readSoFar(files, soFar))]).toEqual(upTo(100))
  await take(journal, 101, 200)
  await vi.advanceTimersByTimeAsync(200)
  // The file has by now what was held then.
  expect([...good(await readSoFar(files, soFar))]).toEqual(upTo(100))
  expect([...good(await readSoFar(files, journal.soFar()))]).toEqual(upTo(200))
})

test('where the disk takes nothing any more, what is held is read too', async () => {
  const { files, journal } = await journalOf100()
  files.room = 0
  await take(journal, 101, 180)
  await vi.advanceTimersByTimeAsync(500)
  expect([...good(await readSoFar(files, journal.soFar()))]).toEqual(upTo(180))
})

test('a file that is shorter than it was, or gone, is a problem and no shorter recording', async () => {
  const { files, journal } = await journalOf100()
  await vi.advanceTimersByTimeAsync(200)
  const soFar = journal.soFar()
  const longer = await readSoFar(files, { ...soFar, writtenBytes: soFar.writtenBytes + 1 })
  expect(longer).toMatchObject({ ok: false, problems: [{ where: '/j/a.journal' }] })
  await journal.discard()
  expect(await readSoFar(files, soFar)).toMatchObject({ ok: false, problems: [{ where: '/j/a.journal' }] })
})
