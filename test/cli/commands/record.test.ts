import { mkdtemp, readdir, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { Outcome } from '../../../src/core/problem.ts'
import { openStore, storePlace } from '../../../src/store/index.ts'
import { ran } from '../fakeIo.ts'

const newStore = (): Promise<string> => mkdtemp(join(tmpdir(), 'tenterhook-record-'))
const ok = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  return outcome.value
}

test('a pretend pull is recorded, read and kept in the store', async () => {
  const store = await newStore()
  const words = ['record', '--pretend', 'saw-tooth', '--seed', '1', '--speed', '40', '--store', store]
  const done = await ran([
    ...words,
    '--study',
    'Handles',
    '--specimen',
    'a 1',
    '--variant',
    'paste',
    '--json',
  ])
  expect(done.err).toContain('recording')
  expect(done.code).toBe(0)
  const told = JSON.parse(done.out)
  expect(told.recording).toMatchObject({ study: 'Handles', specimen: 'a 1', samples: 163, state: 'complete' })
  expect(told.reading.results.peakForce.status).toBe('measured')
  // The journal is gone once it is stored.
  expect(await readdir(join(store, 'journals'))).toEqual([])
  const listed = await ran(['list', '--json', '--store', store])
  expect(JSON.parse(listed.out).recordings[0]).toMatchObject({ id: told.recording.id, samples: 163 })
})

test('with a rig the reading that is kept is the one that was printed, and the rig is kept with it', async () => {
  const store = await newStore()
  const rig = join(store, 'rig.json')
  const quickScale = {
    document: 'tenterhook.quick-scale',
    version: 1,
    date: '2020-05-01',
    basis: 'typed',
    readingUnit: 'N',
    newtonPerReading: 2,
    zeroReading: 0,
    appliedN: null,
    doubtPct: 3,
  }
  const file = { name: 'bench', cell: { capacityN: 2_000 }, strokeMm: 60, calibrations: [quickScale] }
  await writeFile(rig, JSON.stringify(file))
  const record = async (specimen: string) => {
    const pull = ['--pretend', 'saw-tooth', '--seed', '1', '--speed', '40', '--elements', '4']
    const about = ['--study', 'Handles', '--specimen', specimen]
    const done = await ran(['record', ...pull, ...about, '--rig', rig, '--store', store, '--json'])
    expect(done.code, done.err).toBe(0)
    return JSON.parse(done.out)
  }
  const told = await record('a 1')
  await record('a 2')
  await writeFile(rig, JSON.stringify({ ...file, cell: { capacityN: 1_000 } }))
  await record('a 3')
  const open = await openStore(ok(storePlace(store, {})))
  try {
    const { items } = await open.recordings.list({ limit: 10 })
    const first = items.find(entry => entry.id === told.recording.id)!
    const [kept] = await open.readings.history({ specimenId: first.specimen!.id })
    const reading = JSON.parse(JSON.stringify(kept!.reading))
    for (const part of ['results', 'budget', 'warnings', 'pulls', 'events'])
      expect(reading[part], part).toEqual(told.reading[part])
    // The pretend rig shows half of what pulls, says the calibration.
    const bare = await ran([
      'record',
      '--pretend',
      'saw-tooth',
      '--seed',
      '1',
      '--speed',
      '40',
      '--store',
      store,
      '--json',
    ])
    const bareN = JSON.parse(bare.out).reading.results.peakForce.valueN
    expect(told.reading.results.peakForce.valueN / bareN).toBeCloseTo(2, 3)
    // The same rig is kept once; one that has changed beside it.
    expect((await open.rigs.list()).map(({ name }) => name)).toEqual(['bench', 'bench (2)'])
  } finally {
    await open.close()
  }
})

test('a capacity that was told without a rig stands in the reading that is kept', async () => {
  const store = await newStore()
  const pull = ['--pretend', 'brittle', '--seed', '2', '--speed', '40', '--capacity', '60N']
  const about = ['--study', 'Handles', '--specimen', 'a 1']
  const done = await ran(['record', ...pull, ...about, '--store', store, '--json'])
  expect(done.code, done.err).toBe(0)
  const open = await openStore(ok(storePlace(store, {})))
  try {
    const { items } = await open.recordings.list({})
    const [kept] = await open.readings.history({ specimenId: items[0]!.specimen!.id })
    expect(kept?.options).toMatchObject({ capacityN: 60 })
    const { warnings } = JSON.parse(done.out).reading
    expect(JSON.parse(JSON.stringify(kept?.reading.warnings))).toEqual(warnings)
  } finally {
    await open.close()
  }
})

test('without --json the reading is told in words', async () => {
  const store = await newStore()
  const done = await ran(['record', '--pretend', 'brittle', '--seed', '2', '--speed', '40', '--store', store])
  expect(done.out).toMatch(/saved, \d+ samples/)
  expect(done.out).toContain('What happened')
})

test('a second recording of a specimen is told as the specimen then reads, of both', async () => {
  const store = await newStore()
  const words = ['--study', 'Handles', '--variant', 'glue', '--specimen', 'glue 1', '--store', store]
  const pull = (seed: string) =>
    ran(['record', '--pretend', 'brittle', '--seed', seed, '--speed', '40', ...words])
  const first = await pull('2')
  expect(first.out).not.toContain('together')
  const second = await pull('3')
  expect(second.out).toContain('glue 1 reads by its 2 recordings together:')
  const id = second.out.split('  saved')[0]!.trim()
  const shown = await ran(['show', id, '--store', store])
  expect(shown.out).toContain(second.out.split('together:\n')[1]!)
})

test('no source, or two, is an error of the command line', async () => {
  expect(await ran(['record'])).toMatchObject({ code: 2, err: expect.stringContaining('no source is named') })
  expect((await ran(['record', '--stdin', '--tcp', 'localhost:1'])).code).toBe(2)
})

test('a network address that nobody answers is told, with the cure', async () => {
  const store = await newStore()
  const done = await ran(['record', '--tcp', '127.0.0.1:9', '--store', store])
  expect(done).toMatchObject({
    code: 3,
    err: expect.stringContaining('nothing listens there. Check the port number'),
  })
})

test('a port that is not there is told, with where to look', async () => {
  const done = await ran(['record', '--port', '/dev/ttyNOTHERE', '--store', await newStore()])
  expect(done).toMatchObject({ code: 3, err: expect.stringContaining('there is no such port') })
})
