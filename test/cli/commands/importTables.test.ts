import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import type { Reading } from '../../../src/core/reading/document.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-tables-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const table = (title: string, top: number): string =>
  `${title}time_s,force_N\n${Array.from({ length: 80 }, (_, i) => `${i / 10},${i < 20 || i > 60 ? 0 : (top * (i - 19)) / 41}\n`).join('')}`
const named = `${table('Specimen 1\n', 30)}\n${table('Specimen 2\n', 50)}`
const bare = table('', 30) + table('', 50)

const file = async (name: string, content: string | Uint8Array): Promise<string> => {
  await writeFile(join(folder, name), content)
  return join(folder, name)
}
const into = (store: string): string[] => ['--store', join(folder, store)]

interface Shown {
  readonly name: string
  readonly specimen: { readonly name: string } | null
  readonly reading: Reading
}
/** What the store holds, by the names of its recordings. */
async function shownOf(store: string): Promise<Shown[]> {
  const { out } = await ran(['list', '--json', ...into(store)])
  const { recordings } = JSON.parse(out) as { recordings: { id: string }[] }
  const shown: Shown[] = []
  for (const { id } of recordings)
    shown.push(JSON.parse((await ran(['show', '--json', id, ...into(store)])).out) as Shown)
  return shown.sort((a, b) => a.name.localeCompare(b.name))
}
const namesIn = async (store: string) =>
  (await shownOf(store)).map(({ name, specimen }) => [name, specimen?.name])

test('tables with names are taken in each for itself, as read reads them, and are known again', async () => {
  const path = await file('named.csv', named)
  const words = ['import', '--study', 'Loops', path, ...into('named')]
  const first = await ran(words)
  expect(first.code, first.err).toBe(EXIT.ok)
  expect(first.err).toMatch(
    /^named\.csv: 2 tables \(“Specimen 1”, “Specimen 2”\), each taken in as a specimen of its own; --no-each takes/,
  )
  expect(first.out).toMatch(/2 taken in, 0 there already, 0 refused/)
  expect(await namesIn('named')).toEqual([
    ['named.csv · Specimen 1', 'Specimen 1'],
    ['named.csv · Specimen 2', 'Specimen 2'],
  ])
  expect((await ran(words)).out).toMatch(/0 taken in, 2 there already/)

  const read = await ran(['read', '--json', path])
  const asRead = read.out
    .trim()
    .split('\n')
    .map(line => JSON.parse(line) as Reading)
  for (const [i, { reading }] of (await shownOf('named')).entries()) {
    expect(reading.results.peakForce).toEqual(asRead[i]?.results.peakForce)
    expect(reading.specimen?.name).toBe(asRead[i]?.specimen?.name)
  }

  const other = await file('later.csv', named.replaceAll('0,0\n', '0,0.01\n'))
  await ran(['import', '--study', 'Loops', other, ...into('named')])
  expect((await namesIn('named')).map(([, specimen]) => specimen)).toEqual([
    'later Specimen 1',
    'later Specimen 2',
    'Specimen 1',
    'Specimen 2',
  ])
})

test('tables without names are one specimen unless each is asked for', async () => {
  const path = await file('bare.csv', bare)
  const one = await ran(['import', '--study', 'Loops', path, ...into('one')])
  expect(one.err).toMatch(/bare\.csv: 2 tables, taken in as one specimen; --each takes in each for itself\./)
  expect(await namesIn('one')).toEqual([['bare.csv', 'bare']])
  const each = await ran(['import', '--study', 'Loops', '--each', path, ...into('each')])
  expect(each.code, each.err).toBe(EXIT.ok)
  expect(await namesIn('each')).toEqual([
    ['bare.csv · part 1', 'bare part 1'],
    ['bare.csv · part 2', 'bare part 2'],
  ])
  const alone = await ran(['import', '--each', await file('alone.csv', table('', 7)), ...into('each')])
  expect(alone.err).toMatch(/alone\.csv: one table only/)
})

test('named tables are one where that is said, in another encoding too', async () => {
  const path = await file('wide.csv', Buffer.from(`\ufeff${named}`, 'utf16le'))
  await ran(['import', '--study', 'Loops', '--no-each', path, ...into('wide')])
  await ran(['import', '--study', 'Loops', '--specimen', 'both', path, ...into('both')])
  await ran(['import', '--study', 'Loops', '--each', '--encoding', 'utf-16le', path, ...into('parted')])
  expect(await namesIn('wide')).toEqual([['wide.csv', 'wide']])
  expect(await namesIn('both')).toEqual([['wide.csv', 'both']])
  expect((await namesIn('parted')).map(([, specimen]) => specimen)).toEqual(['Specimen 1', 'Specimen 2'])
  expect((await ran(['verify', ...into('parted')])).code).toBe(EXIT.ok)
})
