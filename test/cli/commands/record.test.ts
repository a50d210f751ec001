import { mkdtemp, readdir } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ran } from '../fakeIo.ts'

const newStore = (): Promise<string> => mkdtemp(join(tmpdir(), 'tenterhook-record-'))

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

test('without --json the reading is told in words', async () => {
  const store = await newStore()
  const done = await ran(['record', '--pretend', 'brittle', '--seed', '2', '--speed', '40', '--store', store])
  expect(done.out).toMatch(/saved, \d+ samples/)
  expect(done.out).toContain('What happened')
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
