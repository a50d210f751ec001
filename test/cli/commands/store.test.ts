import { createHash } from 'node:crypto'
import { copyFile, mkdtemp, readFile, rm, utimes, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { DatabaseSync } from '@photostructure/sqlite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { readLog } from '../../../src/logs/index.ts'
import { ran } from '../fakeIo.ts'

const record = (name: string) => fileURLToPath(new URL(`../../records/${name}`, import.meta.url))

let folder = ''
let store: string[] = []
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-cli-'))
  store = ['--store', join(folder, 'store')]
})
afterAll(() => rm(folder, { recursive: true, force: true }))

interface Listed {
  recordings: {
    id: string
    study: string | null
    specimen: string | null
    sha256: string
    samples: number
    state: string
    startedAt: string | null
  }[]
}
const listed = async (...more: string[]): Promise<Listed> =>
  JSON.parse((await ran(['list', '--json', ...store, ...more])).out) as Listed

test('an empty store lists nothing, and says where it lies', async () => {
  expect(await listed()).toEqual({ recordings: [] })
  expect((await ran(['list', ...store])).out).toContain(join(folder, 'store'))
})

test('logs are taken in with a study and variant, read, and known again', async () => {
  const files = ['brittle-1.csv', 'brittle-2.csv'].map(record)
  const words = ['import', '--study', 'Rods', '--variant', 'glass', ...files, '--json', ...store]
  const first = await ran(words)
  expect(first.code, first.err).toBe(EXIT.ok)
  expect(JSON.parse(first.out)).toMatchObject({ taken: 2, known: 0, refused: 0 })
  expect(JSON.parse((await ran(words)).out)).toMatchObject({ taken: 0, known: 2, refused: 0 })
  const { recordings } = await listed()
  expect(recordings.map(r => r.specimen).sort()).toEqual(['brittle-1', 'brittle-2'])
  const sha256 = createHash('sha256')
    .update(await readFile(files[0]!))
    .digest('hex')
  expect(recordings.map(r => r.sha256)).toContain(sha256)
  expect((await listed('--study', 'Rods')).recordings).toHaveLength(2)
  expect((await listed('--search', 'rods brittle-2')).recordings).toHaveLength(1)
  expect((await ran(['list', '--study', 'Ropes', ...store])).err).toContain('“Ropes”')
})

test('when a log began: by its own stamps, else by its file where that is asked for, else not told', async () => {
  const own = ['--store', join(folder, 'times')]
  const rows = (stamp: (i: number) => string) =>
    `time_s,force_N\n${Array.from({ length: 21 }, (_, i) => `${stamp(i)},${i}\n`).join('')}`
  const write = async (name: string, text: string): Promise<string> => {
    await writeFile(join(folder, name), text)
    await utimes(join(folder, name), 1_700_000_000, 1_700_000_000)
    return join(folder, name)
  }
  const stamped = await write(
    'stamped.csv',
    rows(i => `2026-05-01T12:01:${String(i).padStart(2, '0')}Z`),
  )
  const bare = await write(
    'bare.csv',
    rows(i => String(i)),
  )
  const other = await write(
    'other.csv',
    rows(i => String(i / 2)),
  )
  await ran(['import', stamped, bare, ...own])
  await ran(['import', other, '--file-times', ...own])
  const { recordings } = JSON.parse((await ran(['list', '--json', ...own])).out) as Listed
  const starts = recordings.map(({ samples, startedAt }) => [samples, startedAt])
  expect(starts).toContainEqual([21, '2026-05-01T12:01:00.000Z'])
  expect(starts).toContainEqual([21, null])
  // Ten seconds before the file was last written.
  expect(starts).toContainEqual([21, new Date(1_699_999_990_000).toISOString()])
})

test('what cannot be understood is refused by name; the others are taken in', async () => {
  const bad = join(folder, 'letter.txt')
  await writeFile(bad, 'Dear rig,\nhow are you?\n')
  const { code, out, err } = await ran([
    'import',
    bad,
    join(folder, 'gone.csv'),
    record('soften-4.csv'),
    ...store,
  ])
  expect(code).toBe(EXIT.input)
  expect(err).toContain('letter.txt')
  expect(err).toContain('gone.csv')
  expect(out).toContain('1 taken in, 0 there already, 2 refused')
})

test('two logs of one specimen', async () => {
  const words = ['--study', 'Rods', '--specimen', 'twice', record('tabs-1.csv'), record('tabs-3.csv')]
  expect((await ran(['import', ...words, ...store])).code).toBe(EXIT.ok)
  expect((await listed('--search', 'twice')).recordings).toHaveLength(2)
  const shown = JSON.parse(
    (await ran(['show', (await listed('--search', 'twice')).recordings[0]!.id, '--json', ...store])).out,
  )
  expect(shown.reading.recording.segments).toHaveLength(2)
})

test('show tells the facts and the reading, also by the first letters of the id', async () => {
  const [one] = (await listed('--search', 'brittle-1')).recordings
  const { code, out, err } = await ran(['show', one!.id.slice(0, 6), ...store])
  expect(code, err).toBe(EXIT.ok)
  expect(out).toContain(one!.sha256)
  expect(out).toContain('brittle-1, study Rods')
  expect(out).toContain('What makes the peak')
  expect((await ran(['show', 'zzzz', ...store])).code).toBe(EXIT.input)
})

test('export gives a header and a row for each sample, and the log as received', async () => {
  const [one] = (await listed('--search', 'brittle-1')).recordings
  const { out } = await ran(['export', one!.id, '--as', 'csv', ...store])
  const lines = out.trimEnd().split('\n')
  expect(lines[0]).toBe('time_s,force_N')
  expect(lines).toHaveLength(one!.samples + 1)
  const original = await readFile(record('brittle-1.csv'))
  const recording = readLog(original, 'x')
  expect(recording.ok && lines[1]).toBe(
    recording.ok && `${recording.value.timeS[0]},${recording.value.forceN[0]}`,
  )
  expect((await ran(['export', one!.id, '--as', 'jsonl', ...store])).out.split('\n')).toHaveLength(
    one!.samples + 1,
  )
  const copy = join(folder, 'copy.csv')
  expect((await ran(['export', one!.id, '--as', 'log', '--out', copy, ...store])).code).toBe(EXIT.ok)
  expect(await readFile(copy)).toEqual(original)
  const parquet = join(folder, 'x.parquet')
  expect((await ran(['export', one!.id, '--as', 'parquet', '--out', parquet, ...store])).code).toBe(EXIT.ok)
  expect((await readFile(parquet)).subarray(0, 4).toString()).toBe('PAR1')
  expect((await ran(['export', one!.id, '--as', 'parquet', ...store])).code).toBe(EXIT.usage)
  expect((await ran(['export', ...store])).code).toBe(EXIT.usage)
  const nowhere = await ran(['export', one!.id, '--out', join(folder, 'no', 'x.csv'), ...store])
  expect(nowhere.code).toBe(EXIT.output)
  expect(nowhere.err).toContain('its folder is not there')
})

test('backup, restore, export of all and import of all give the same hashes', async () => {
  const before = await listed()
  const file = join(folder, 'all.backup')
  expect((await ran(['backup', file, ...store])).code).toBe(EXIT.ok)
  const second = ['--store', join(folder, 'second')]
  expect((await ran(['restore', file, ...second])).code).toBe(EXIT.ok)
  expect(JSON.parse((await ran(['list', '--json', ...second])).out)).toEqual(before)
  const archive = join(folder, 'all.jsonl.gz')
  expect((await ran(['export', '--all', '--out', archive, ...store])).code).toBe(EXIT.ok)
  const third = ['--store', join(folder, 'third')]
  expect((await ran(['import', '--all', archive, ...third])).code).toBe(EXIT.ok)
  const there = JSON.parse((await ran(['list', '--json', ...third])).out) as Listed
  expect(there.recordings.map(r => r.sha256).sort()).toEqual(before.recordings.map(r => r.sha256).sort())
  expect(JSON.parse((await ran(['verify', '--json', ...third])).out)).toMatchObject({
    sound: true,
    findings: [],
  })
  const again = await ran(['restore', file, ...second])
  expect(again.out).toContain('kept as')
})

test('verify tells damage with exit code 1', async () => {
  const { out } = await ran(['verify', ...store])
  expect(out).toContain('Sound')
  await copyFile(join(folder, 'second', 'tenterhook.sqlite'), join(folder, 'second', 'kept'))
  const raw = new DatabaseSync(join(folder, 'second', 'tenterhook.sqlite'))
  raw.exec('drop trigger recording_log_no_delete; delete from recording_log')
  raw.close()
  const { code, err } = await ran(['verify', '--store', join(folder, 'second')])
  expect(code).toBe(EXIT.doubtful)
  expect(err).toContain('log does not match its hash')
})

test('a store by the environment; a PostgreSQL address says that it is not supported, and shows no password', async () => {
  const env = { TENTERHOOK_STORE: join(folder, 'store') }
  expect((JSON.parse((await ran(['list', '--json'], { env })).out) as Listed).recordings).toHaveLength(5)
  const { code, err } = await ran(['list', '--store', 'postgres://lab:geheim@db/x'])
  expect(code).toBe(EXIT.usage)
  expect(err).toContain('PostgreSQL')
  expect(err).not.toContain('geheim')
})

test('a folder that is a file is told', async () => {
  const { code, err } = await ran(['list', '--store', record('brittle-1.csv')])
  expect(code).toBe(EXIT.output)
  expect(err).toContain('brittle-1.csv')
})
