import { copyFile, mkdir, readdir, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest'
import { ANSWER_SCHEMAS } from '../../src/server/answerSchemas.ts'
import type {
  EndedRecording,
  LineState,
  LiveReading,
  SpecimenCommand,
} from '../../src/server/desk/liveTypes.ts'
import { recoverIntoStore } from '../../src/server/storeCaptured.ts'
import type { RecordingEntry, Specimen } from '../../src/store/index.ts'
import { ask, json, type Running, running } from './running.ts'
import { type TcpRig, tcpRig, type Viewer, viewer } from './tcpRig.ts'

let run: Running
let rig: TcpRig
let seen: Viewer
beforeAll(async () => {
  run = await running()
})
afterAll(() => run.stop())
beforeEach(async () => {
  rig = await tcpRig()
})
afterEach(async () => {
  seen?.close()
  if (run.server.desk.recording) await call('POST', '/api/line/give-up', { why: 'the test is over' })
  await call('DELETE', '/api/line')
  await rig.close()
})

async function call(method: string, path: string, body?: unknown) {
  const { status, text } = await ask(run.server, method, path, body === undefined ? {} : json(body))
  return { status, value: JSON.parse(text) }
}
/** What is answered is as the description says. */
const SAYS: Readonly<Record<string, string>> = {
  '/api/line': 'LineState',
  '/api/line/arm': 'CaptureState',
  '/api/line/start': 'CaptureState',
  '/api/line/zero': 'ZeroTaken',
  '/api/line/turn': 'TurnsTapped',
  '/api/line/reading': 'LiveReading',
  '/api/line/finish': 'EndedRecording',
  '/api/line/redo': 'SpecimenCommand',
  '/api/line/spoil': 'SpecimenCommand',
  '/api/rigs': 'Rig',
}
async function good<T>(method: string, path: string, body?: unknown): Promise<T> {
  const { status, value } = await call(method, path, body)
  if (status !== 200) throw new Error(`${status} ${JSON.stringify(value)}`)
  const says = SAYS[path]
  if (says !== undefined) expect(ANSWER_SCHEMAS[says]?.safeParse(value).error).toBeUndefined()
  return value as T
}
const until = (what: () => unknown) => expect.poll(what, { timeout: 10_000 }).toBeTruthy()

async function opened(more: object = {}): Promise<void> {
  await good<LineState>('POST', '/api/line', { source: rig.source, ...more })
  await rig.connected()
  seen = await viewer(run.server.port)
}
/** Says it and waits until the server has heard the last of it. */
async function heard(...args: Parameters<TcpRig['pull']>): Promise<void> {
  const before = seen.of('samples').at(-1)?.timeS.at(-1) ?? Number.NEGATIVE_INFINITY
  rig.pull(...args)
  const spanS = args[1] - args[0]
  await until(() => {
    const last = seen.of('samples').at(-1)?.timeS.at(-1)
    const first = seen.of('samples').find(m => (m.timeS.at(-1) ?? 0) > before)?.timeS[0]
    return last !== undefined && first !== undefined && last > before && last - first >= spanS - 0.015
  })
}
const named = (specimen: string) => ({
  about: { study: 'Live', variant: 'paste', specimen, operator: 'Kim' },
})
const entryOf = (id: string) =>
  good<{ entry: RecordingEntry }>('GET', `/api/recordings/${id}`).then(({ entry }) => entry)

test('a pull from arming to the store: state, samples, figures, events, the reading within a second, and all of it again for who comes late', async () => {
  await opened({ capacityN: 200 })
  expect(seen.got[0]).toMatchObject({ kind: 'snapshot', snapshot: { state: { phase: 'waiting' } } })
  await heard(0, 2, () => 0)
  await good('POST', '/api/line/arm', named('one'))
  await heard(2, 3, () => 0)
  await heard(3, 6, t => (t < 5 ? 40 * (t - 3) : 50 + 20 * (t - 5)))
  await until(() => seen.of('event').some(({ event }) => event.kind === 'partial-break' && event.settled))
  await good('POST', '/api/line/note', { text: 'creaks' })
  const figures = seen.of('figures').at(-1)?.figures
  expect(figures?.peakN).toBeCloseTo(79.8, 0)
  expect(figures?.forceN).toBeCloseTo(69.8, 0)
  expect(figures?.shareOfCapacity).toBeCloseTo(0.35, 2)
  expect(figures?.rateNPerS).toBeCloseTo(20, 0)

  const late = await viewer(run.server.port)
  const [first] = late.of('snapshot')
  expect(first?.snapshot).toMatchObject({
    state: { phase: 'recording', pulling: true, startedBy: 'force' },
    plan: { about: { specimen: 'one' } },
    notes: expect.arrayContaining([expect.objectContaining({ of: 'operator', text: 'creaks' })]),
  })
  expect(Math.max(...(first?.snapshot?.curve.highN ?? []))).toBeCloseTo(79.8, 0)
  expect(first?.snapshot?.recordingId).toBe((await good<LineState>('GET', '/api/line')).recordingId)
  late.close()

  const brokeMs = performance.now()
  await heard(6, 7, () => 0)
  await until(() => seen.of('reading').length > 0)
  // Part of the message's meaning: a second after the break. This machine may be busy, so that the test allows more.
  expect(performance.now() - brokeMs).toBeLessThan(5_000)
  const reading = seen.of('reading')[0]
  expect(reading).toMatchObject({ pulls: 1, problems: [] })
  expect(reading?.reading?.results.peakForce.valueN).toBeCloseTo(79.8, 0)
  // Its times, shifted, are those of the stream.
  const peakS = (reading?.reading?.results.peakForce.atS ?? 0) + (reading?.toLiveS ?? 0)
  const drawn = seen.of('samples').flatMap(m => m.timeS.map((s, i) => [s, m.forceN[i] ?? 0] as const))
  const top = drawn.reduce((best, point) => (point[1] > best[1] ? point : best))
  expect(Math.abs(peakS - top[0])).toBeLessThan(0.02)
  expect((await good<LiveReading>('GET', '/api/line/reading')).reading?.results.partialBreaks).toBe(1)

  const ended = await good<EndedRecording>('POST', '/api/line/finish')
  expect(ended).toMatchObject({ how: 'finished', problems: [], reading: { document: 'tenterhook.reading' } })
  await until(() => seen.of('stored').length > 0)
  expect(seen.of('stored')[0]).toEqual({ kind: 'stored', ...ended })
  expect(await entryOf(ended.recordingId)).toMatchObject({ state: 'complete', specimen: { name: 'one' } })
  // What was told beside the line, without a rig, stands in the kept reading too.
  const kept = await good<{ readings: { options: { capacityN: number } }[] }>(
    'GET',
    `/api/specimens/${ended.specimenId}`,
  )
  expect(kept.readings[0]?.options.capacityN).toBe(200)
  expect((await call('GET', '/api/line/reading')).status).toBe(409)
})

test('zero: taken with the level before it; refused while the force moves, with the reason; taken all the same if told so', async () => {
  await opened()
  expect((await call('POST', '/api/line/zero')).value.problems[0].what).toContain('no samples')
  await heard(0, 2, () => 3)
  expect(await good('POST', '/api/line/zero')).toMatchObject({
    beforeN: null,
    zeroN: expect.closeTo(3.01, 1),
  })
  await heard(2, 4, t => 3 + 20 * (t - 2))
  const refused = await call('POST', '/api/line/zero', {})
  expect(refused.status).toBe(409)
  expect(refused.value.problems[0].what).toMatch(/does not stand still: it moved over [\d.]+ N/)
  const taken = await good<{ zeroN: number; beforeN: number; spreadN: number }>('POST', '/api/line/zero', {
    anyway: true,
  })
  expect(taken.beforeN).toBeCloseTo(3.01, 1)
  expect(taken.spreadN).toBeGreaterThan(8)
})

test('turns tapped by hand become a channel, in mm by the pitch of the rig, and its stroke is told', async () => {
  const document = { name: 'nut rig', cell: { capacityN: 500 }, drive: { mmPerTurn: 1.5 }, strokeMm: 30 }
  const { id: rigId } = await good<{ id: string }>('POST', '/api/rigs', { name: 'nut rig', document })
  await opened({ rigId })
  expect(seen.got[0]).toMatchObject({ rig: { id: rigId, capacityN: 500, strokeMm: 30, mmPerTurn: 1.5 } })
  expect((await call('POST', '/api/line/turn')).status).toBe(409)
  await heard(0, 1, () => 0)
  await good('POST', '/api/line/start', { ...named('nut'), keepBeforeS: 0 })
  await heard(1, 2, () => 0)
  for (let k = 0; k < 4; k++) {
    await good('POST', '/api/line/turn')
    await heard(2 + k, 3 + k, t => 10 * (t - 2))
  }
  expect(await good('POST', '/api/line/turn', { by: 1 })).toEqual({ turns: 5, travelMm: 7.5 })
  expect(await good('POST', '/api/line/turn', { by: -1 })).toEqual({ turns: 4, travelMm: 6 })
  await heard(6, 7, () => 0)
  expect(seen.of('figures').at(-1)?.figures).toMatchObject({ turns: 4, travelMm: 6, shareOfStroke: 0.2 })
  const { recordingId, reading } = await good<EndedRecording>('POST', '/api/line/finish')
  const loaded = await run.store.recordings.load(recordingId)
  if (!loaded.ok) throw new Error(loaded.problems[0]?.what)
  const [turns] = loaded.value.channels
  expect(turns).toMatchObject({ kind: 'travel', unit: 'turns' })
  const at = (s: number) => turns?.values[loaded.value.timeS.findIndex(t => t > s - 0.005)]
  expect([at(1.5), at(2.5), at(4), at(6.5)]).toEqual([
    Number.NaN,
    expect.closeTo(1.5, 1),
    expect.closeTo(3, 1),
    Number.NaN,
  ])
  expect(loaded.value.notes.map(({ text }) => text)).toContain('turn 3 of the drive')
  expect(reading?.results.stiffness).not.toBeNull()
  expect(await entryOf(recordingId)).toMatchObject({ rigId })
})

test('a calibration scales a line in force units live as it does in the reading', async () => {
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
  const document = { name: 'double', cell: { capacityN: 500 }, calibrations: [quickScale] }
  const { id: rigId } = await good<{ id: string }>('POST', '/api/rigs', { name: 'double', document })
  await opened({ rigId })
  await heard(0, 1, () => 0)
  await good('POST', '/api/line/start', named('scaled'))
  await heard(1, 2, () => 0)
  await heard(2, 4, t => 20 * (t - 2))
  expect(seen.of('figures').at(-1)?.figures.peakN).toBeCloseTo(79.6, 0)
  expect(seen.of('figures').at(-1)?.figures.shareOfCapacity).toBeCloseTo(0.16, 2)
  await heard(4, 6, () => 0)
  const { reading, recordingId } = await good<EndedRecording>('POST', '/api/line/finish')
  expect(reading?.results.peakForce.valueN).toBeCloseTo(79.6, 0)
  const loaded = await run.store.recordings.load(recordingId)
  // The recording itself keeps what the line said.
  expect(loaded.ok && Math.max(...loaded.value.forceN)).toBeCloseTo(39.8, 0)
})

test('by the id of a specimen: labels and elements are those of the store', async () => {
  const study = await good<{ id: string }>('POST', '/api/studies', { name: 'Planned', elements: 8 })
  const specimen = await good<Specimen>('POST', `/api/studies/${study.id}/specimens`, { name: 'p 1' })
  await opened()
  await heard(0, 1, () => 0)
  expect((await call('POST', '/api/line/arm', { specimenId: 'nobody' })).status).toBe(422)
  await good('POST', '/api/line/start', { specimenId: specimen.id })
  const { plan } = await good<LineState>('GET', '/api/line')
  expect(plan).toMatchObject({ about: { study: 'Planned', specimen: 'p 1' }, elements: 8 })
  await heard(1, 3, () => 0)
  // A name that changes in the meantime does not matter.
  await good('PATCH', `/api/specimens/${specimen.id}`, { name: 'p 1 renamed' })
  const ended = await good<EndedRecording>('POST', '/api/line/finish')
  expect(ended.specimenId).toBe(specimen.id)
  const after = await good<{ specimen: Specimen }>('GET', `/api/specimens/${specimen.id}`)
  // The study may still be told another number.
  expect(after.specimen).toMatchObject({ name: 'p 1 renamed', elements: null, status: 'pulled' })
})

test('a recording more of one specimen is told with the reading of the specimen, as it is kept and as Read shows it', async () => {
  await opened()
  await heard(0, 1, () => 0)
  const pulled = async (fromS: number, topN: number) => {
    await good('POST', '/api/line/start', named('in two'))
    await heard(fromS, fromS + 1, () => 0)
    await heard(fromS + 1, fromS + 3, t => (topN / 2) * (t - fromS - 1))
    await heard(fromS + 3, fromS + 4, () => 0)
    return good<EndedRecording>('POST', '/api/line/finish')
  }
  const first = await pulled(1, 60)
  expect(first.reading?.recording.segments).toHaveLength(1)
  const second = await pulled(5, 20)
  expect(second.specimenId).toBe(first.specimenId)
  // Of the second alone it would be 20 N.
  expect(second.reading?.results.peakForce.valueN).toBeCloseTo(59.7, 0)
  expect(second.reading?.recording.segments).toHaveLength(2)
  const { readings } = await good<{ readings: { reading: object }[] }>(
    'GET',
    `/api/specimens/${second.specimenId}`,
  )
  expect(JSON.stringify(second.reading)).toBe(JSON.stringify(readings[0]?.reading))
  // What was set aside is told by itself, and the specimen by what is left.
  const redone = await good<SpecimenCommand>('POST', '/api/line/redo', { why: 'slipped' })
  expect(redone.recordingId).toBe(second.recordingId)
  await good('POST', '/api/line/disarm')
  const third = await pulled(9, 30)
  expect(third.reading?.recording.segments).toHaveLength(2)
  expect(third.reading?.results.peakForce.valueN).toBeCloseTo(59.7, 0)
})

test('given up, done again, spoiled: each recording is kept, and what it counts for is told', async () => {
  await opened()
  expect((await call('POST', '/api/line/redo', { why: 'x' })).status).toBe(409)
  expect((await call('POST', '/api/line/spoil', { why: 'x' })).status).toBe(409)
  await heard(0, 1, () => 0)
  await good('POST', '/api/line/start', named('again'))
  await heard(1, 3, t => 10 * (t - 1))
  // In the middle of a pull.
  const redone = await good<SpecimenCommand>('POST', '/api/line/redo', { why: 'the grip slipped' })
  expect(redone.state.phase).toBe('armed')
  const first = await entryOf(redone.recordingId ?? '')
  expect(first).toMatchObject({ state: 'given-up', setAside: { why: 'the grip slipped' } })
  await heard(3, 4, () => 0)
  await heard(4, 6, t => 20 * (t - 4))
  await heard(6, 8, () => 0)
  const second = await good<EndedRecording>('POST', '/api/line/finish')
  expect(second.specimenId).toBe(first.specimen?.id)
  // After it had ended.
  const third = await good<SpecimenCommand>('POST', '/api/line/redo', { why: 'wrong way round' })
  expect(third).toMatchObject({ recordingId: second.recordingId, state: { phase: 'armed' } })
  expect(await entryOf(second.recordingId)).toMatchObject({
    state: 'complete',
    setAside: { why: 'wrong way round' },
  })
  const spoiled = await good<SpecimenCommand>('POST', '/api/line/spoil', { why: 'tore while mounting' })
  expect(spoiled).toMatchObject({
    recordingId: null,
    specimenId: second.specimenId,
    state: { phase: 'waiting' },
  })
  const { specimen } = await good<{ specimen: Specimen }>('GET', `/api/specimens/${second.specimenId}`)
  expect(specimen).toMatchObject({ status: 'left-out', statusReason: 'tore while mounting' })
})

test('what is decided about a pull while it is still being kept is decided about that one, never about the one before', async () => {
  await opened()
  await heard(0, 1, () => 0)
  const pulled = async (specimen: string, fromS: number) => {
    await good('POST', '/api/line/start', named(specimen))
    await heard(fromS, fromS + 2, t => 10 * (t - fromS))
    await heard(fromS + 2, fromS + 3, () => 0)
  }
  const endedAnd = (decided: 'redo' | 'spoil') =>
    Promise.all([
      good<EndedRecording>('POST', '/api/line/finish'),
      good<SpecimenCommand>('POST', `/api/line/${decided}`, { why: 'slipped' }),
    ])
  await pulled('before', 1)
  const before = await good<EndedRecording>('POST', '/api/line/finish')
  await pulled('again', 4)
  const [again, redone] = await endedAnd('redo')
  expect(redone.recordingId).toBe(again.recordingId)
  expect((await entryOf(again.recordingId)).setAside).toMatchObject({ why: 'slipped' })
  await good('POST', '/api/line/disarm')
  await pulled('spoilt', 7)
  const [spoilt, leftOut] = await endedAnd('spoil')
  expect(leftOut).toMatchObject({ recordingId: spoilt.recordingId, specimenId: spoilt.specimenId })
  // Armed for the next one: the last one stays as it is.
  await good('POST', '/api/line/arm', named('next'))
  const next = await good<SpecimenCommand>('POST', '/api/line/redo', { why: 'slipped' })
  expect(next.recordingId).toBeNull()
  expect((await entryOf(before.recordingId)).setAside).toBeNull()
  expect((await entryOf(spoilt.recordingId)).setAside).toBeNull()
  const { specimen } = await good<{ specimen: Specimen }>('GET', `/api/specimens/${before.specimenId}`)
  expect(specimen.status).toBe('pulled')
})

test('a recording that a stopped program left behind keeps its rig, its capacity and what its plan said', async () => {
  const journals = join(run.folder, 'left')
  await mkdir(journals)
  const path = join(journals, '8c1b.journal')
  await copyFile(new URL('../capture/journal/version-2.journal', import.meta.url), path)
  // So long ago that no running program can be writing it.
  await utimes(path, 1e9, 1e9)
  const { recovered, problems } = await recoverIntoStore(run.store, journals)
  expect(problems).toEqual([])
  const [entry] = recovered
  expect(entry).toMatchObject({ state: 'recovered', device: 'hand line', forceUnit: 'counts' })
  const rig = await run.store.rigs.get(entry?.rigId ?? '')
  expect(rig.ok && rig.value.document).toMatchObject({ name: 'nut rig', strokeMm: 40 })
  const { specimen, readings } = await good<{
    specimen: Specimen
    readings: { options: object; reading: { results: { peakForce: { valueN: number } } } }[]
  }>('GET', `/api/specimens/${entry?.specimen?.id}`)
  expect(specimen).toMatchObject({ name: 'paste 4', operator: 'A.', elements: 8 })
  expect(readings[0]?.options).toMatchObject({ elements: 8, capacityN: 450, strokeMm: 40 })
  expect(readings[0]?.reading.results.peakForce.valueN).toBeGreaterThan(208)
  expect(await readdir(journals)).toEqual([])
})
