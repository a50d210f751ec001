import { afterAll, beforeAll, expect, test } from 'vitest'
import { makePull } from '../../src/capture/pretend/index.ts'
import type { Health } from '../../src/core/health/document.ts'
import { rigRecords } from '../../src/server/rigRecords.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { ask, type Running, running } from './running.ts'

let run: Running
const ids: Record<string, string> = {}
beforeAll(async () => {
  run = await running()
  for (const name of ['lossy', 'well', 'idle'])
    ids[name] = good(await run.store.rigs.create({ name, document: { name, converter: { rateHz: 80 } } })).id
  const save = async (rig: string, seed: number, lostShare: number) => {
    const { recording } = makePull({
      kind: 'slips',
      seed,
      change: spec => ({ ...spec, troubles: { lostShare } }),
    })
    const log = new TextEncoder().encode(`${rig} ${seed}`)
    return good(await run.store.recordings.save({ recording, log, source: 'log', rigId: ids[rig]! })).entry.id
  }
  await save('lossy', 6, 0.03)
  await save('well', 5, 0)
  // What was set aside tells nothing of the rig.
  good(await run.store.recordings.setAside(await save('well', 8, 0.1), 'the plug was out'))
})
afterAll(() => run.stop())

const codes = ({ findings }: Health): string[] => findings.map(f => f.code)

test('the rests of the recordings of one rig of the store are judged, over the API', async () => {
  const of = async (name: string): Promise<Health> => {
    const { status, text } = await ask(run.server, 'GET', `/api/rigs/${ids[name]}/health`)
    expect(status).toBe(200)
    return JSON.parse(text)
  }
  const lossy = await of('lossy')
  expect(codes(lossy)).toContain('lost')
  expect(lossy.records.map(r => r.step)).toEqual(['ordinary'])
  const well = await of('well')
  expect(codes(well)).not.toContain('lost')
  expect(well.records).toHaveLength(1)
  expect((await ask(run.server, 'GET', `/api/rigs/${ids.idle}/health`)).status).toBe(404)
  expect((await ask(run.server, 'GET', '/api/rigs/none/health')).text).toContain('Its rigs are')
  expect(run.faults).toEqual([])
})

test('and on the command line, by the rig’s name', async () => {
  const words = ['rig', 'health', '--store', run.folder.concat('/store')]
  const { code, out } = await ran([...words, '--of', 'lossy', '--json'])
  expect(code).toBe(0)
  expect(codes(JSON.parse(out))).toContain('lost')
  const none = await ran([...words, '--of', 'nobody'])
  expect(none.code).toBe(3)
  expect(none.err).toContain('the store has no rig of this name')
  expect(none.err).toContain('lossy')
  const kept = await ran([...words, '--of', 'lossy', '--keep'])
  expect(kept.code).toBe(0)
  const rig = (await run.store.rigs.list()).find(r => r.id === ids.lossy)!
  const { health } = rig.document as { health: { findings: { code: string }[]; steps: string[] }[] }
  expect(health).toHaveLength(1)
  expect(health[0]!.findings.map(f => f.code)).toContain('lost')
  expect(health[0]!.steps).toEqual(['ordinary'])
  const idle = await ran([...words, '--of', 'idle'])
  expect(idle.err).toContain('no recording of it that can be judged')
})

test('a rig’s recordings are found behind any number of later ones of other rigs', async () => {
  const { store } = run
  const { recordings } = store
  const inSmallPages = {
    ...store,
    recordings: {
      ...recordings,
      list: (filter: Parameters<typeof recordings.list>[0]) => recordings.list({ ...filter, limit: 1 }),
    },
  }
  for (const name of ['lossy', 'well'])
    expect(good(await rigRecords(inSmallPages, ids[name]!)).records, name).toHaveLength(1)
})
