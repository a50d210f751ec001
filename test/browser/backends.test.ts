import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Backend } from '../../src/web/data/backend.ts'
import { jpeg } from '../logs/picture/pictures.ts'
import { RIG_OF_EDITS } from '../store/anyEdits.ts'
import { type BothHomes, Refused, startBothHomes } from './backends.ts'

/** What the app asks of a home for studies, asked of both: they must answer alike. */

let homes: BothHomes
beforeAll(async () => {
  homes = await startBothHomes()
}, 240_000)
afterAll(() => homes?.stop())

/** What a call was refused with. */
const refusal = async (call: Promise<unknown>): Promise<Refused> => {
  const answer = await call.then(
    value => value,
    (error: unknown) => error,
  )
  if (!(answer instanceof Refused)) throw new Error(`not refused, but ${JSON.stringify(answer)}`)
  expect(answer.problems.length).toBeGreaterThan(0)
  for (const { where, what, cure } of answer.problems)
    for (const words of [where, what, cure]) expect(words).not.toBe('')
  return answer
}

/** A pull to a peak: 12 s at 20 a second, at rest before and after. */
const log = (peakN: number, name = `pull ${peakN}.csv`) => {
  const rows = Array.from({ length: 240 }, (_, i) => {
    const forceN = i < 30 || i > 200 ? 0.02 * Math.sin(i) : ((i - 30) / 170) * peakN
    return `${(i / 20).toFixed(2)},${forceN.toFixed(3)}`
  })
  const bytes = new TextEncoder().encode(['time s,force N', ...rows, ''].join('\n'))
  return { name, bytes: new Uint8Array(bytes), options: {}, rigId: null }
}

describe.each(['page', 'server'] as const)('studies in the home “%s”', home => {
  let backend: Backend
  beforeAll(() => {
    backend = homes.backend(home)
  })

  test('a study is made, trimmed, changed, listed newest first and taken away', async () => {
    const first = await backend.studies.create({ name: '  Tapes ', question: 'Which holds?' })
    expect(first).toMatchObject({
      name: 'Tapes',
      question: 'Which holds?',
      failureModes: [],
      quantity: 'force',
      elements: null,
      plannedPerVariant: null,
      plan: null,
      method: '',
      tell: null,
      films: null,
      equivalents: [],
      archived: false,
    })
    const second = await backend.studies.create({ name: 'Cords' })
    const names = (await backend.studies.list()).map(({ name }) => name)
    expect(names.indexOf('Cords')).toBeLessThan(names.indexOf('Tapes'))
    const changed = await backend.studies.change(first.id, { archived: true, basedOn: first.updatedAt })
    expect(changed).toEqual({ ...first, archived: true, updatedAt: changed.updatedAt })
    expect(changed.updatedAt > first.updatedAt).toBe(true)
    await backend.studies.remove(first.id)
    await backend.studies.remove(second.id)
    expect((await backend.studies.list()).map(({ id }) => id)).not.toContain(first.id)
    expect((await refusal(backend.studies.open(first.id))).kind).toBe('Trouble')
    await refusal(backend.studies.remove(first.id))
    await refusal(backend.studies.change(first.id, { method: 'x' }))
  })

  test('names: taken, empty and endless ones are refused, and nothing is written', async () => {
    const study = await backend.studies.create({ name: 'Names' })
    const other = await backend.studies.create({ name: 'Other names' })
    for (const name of ['Names', ' Names ', '', '   ', 'x'.repeat(201)]) {
      await refusal(backend.studies.create({ name }))
      await refusal(backend.studies.change(other.id, { name, question: 'written?' }))
    }
    expect((await backend.studies.open(other.id)).study).toEqual(other)
    // Its own name is not taken.
    await backend.studies.change(study.id, { name: 'Names' })
    for (const subject of [backend.variants, backend.specimens]) {
      const one = await subject.create(study.id, { name: ' one ' })
      expect(one.name).toBe('one')
      const two = await subject.create(study.id, { name: 'two' })
      for (const name of ['one', '', ' ']) {
        await refusal(subject.create(study.id, { name }))
        await refusal(subject.change(two.id, { name }))
      }
      expect((await subject.change(two.id, { name: 'three' })).name).toBe('three')
      // In another study the name is free.
      await subject.create(other.id, { name: 'one' })
      await refusal(subject.create('no-such-id', { name: 'four' }))
      await refusal(subject.change('no-such-id', { name: 'four' }))
      await refusal(subject.remove('no-such-id'))
    }
  })

  test('the later of two edits of one thing is told, and nothing of it is written', async () => {
    const study = await backend.studies.create({ name: 'Edits', failureModes: ['tore'] })
    const mine = await backend.studies.change(study.id, { question: 'mine', basedOn: study.updatedAt })
    const late = await refusal(
      backend.studies.change(study.id, { question: 'theirs', basedOn: study.updatedAt }),
    )
    expect(late.kind).toBe('Conflict')
    expect((await backend.studies.open(study.id)).study).toEqual(mine)
    // Over it, when it is meant so.
    expect((await backend.studies.change(study.id, { question: 'theirs' })).question).toBe('theirs')
    const specimen = await backend.specimens.create(study.id, { name: 's' })
    await backend.specimens.change(specimen.id, { note: 'mine', basedOn: specimen.updatedAt })
    expect(
      (await refusal(backend.specimens.change(specimen.id, { note: 'theirs', basedOn: specimen.updatedAt })))
        .kind,
    ).toBe('Conflict')
    expect((await backend.studies.open(study.id)).specimens[0]?.note).toBe('mine')
  })

  test('so it is with the fields of a variant, as they were seen', async () => {
    const study = await backend.studies.create({ name: 'Edits of variants' })
    const { id } = await backend.variants.create(study.id, { name: 'glue', elements: 8 })
    const mine = await backend.variants.change(id, { name: 'paste', basedOn: { name: 'glue' } })
    const late = await refusal(backend.variants.change(id, { name: 'tape', basedOn: { name: 'glue' } }))
    expect(late.kind).toBe('Conflict')
    expect((await backend.studies.open(study.id)).variants).toEqual([mine])
    // Another field was touched by nobody.
    await backend.variants.change(id, { elements: 9, basedOn: { elements: 8 } })
    await backend.variants.change(id, { elements: null, note: '', basedOn: { elements: 9, note: '' } })
    expect((await backend.variants.change(id, { name: 'tape' })).name).toBe('tape')
  })

  test('of many edits at once that were based on the same, one is written', async () => {
    const study = await backend.studies.create({ name: 'At once' })
    const edits = await Promise.allSettled(
      Array.from({ length: 8 }, (_, i) =>
        backend.studies.change(study.id, { question: `edit ${i}`, basedOn: study.updatedAt }),
      ),
    )
    expect(edits.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    const specimen = await backend.specimens.create(study.id, { name: 's' })
    const others = await Promise.allSettled(
      Array.from({ length: 8 }, (_, i) =>
        backend.specimens.change(specimen.id, { note: `edit ${i}`, basedOn: specimen.updatedAt }),
      ),
    )
    expect(others.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
  })

  test('variants keep an order without gaps, and leave their specimens behind', async () => {
    const study = await backend.studies.create({ name: 'Order' })
    for (const name of ['a', 'b', 'c', 'd']) await backend.variants.create(study.id, { name })
    const order = async () =>
      (await backend.studies.open(study.id)).variants.map(({ name, place }) => `${name}${place}`).join(' ')
    const named = async (name: string) =>
      (await backend.studies.open(study.id)).variants.find(variant => variant.name === name)!
    expect(await order()).toBe('a0 b1 c2 d3')
    expect((await backend.variants.change((await named('d')).id, { place: 1 })).place).toBe(1)
    expect(await order()).toBe('a0 d1 b2 c3')
    await backend.variants.change((await named('a')).id, { place: 99, control: true })
    expect(await order()).toBe('d0 b1 c2 a3')
    const b = await named('b')
    const specimen = await backend.specimens.create(study.id, { name: 's', variantId: b.id })
    await backend.variants.remove(b.id)
    expect((await backend.studies.open(study.id)).specimens).toEqual([{ ...specimen, variantId: null }])
    expect((await backend.variants.create(study.id, { name: 'e' })).place).toBe(4)
    const other = await backend.studies.create({ name: 'Another order' })
    const foreign = await backend.variants.create(other.id, { name: 'f' })
    await refusal(backend.specimens.create(study.id, { name: 't', variantId: foreign.id }))
    await refusal(backend.specimens.change(specimen.id, { variantId: foreign.id }))
  })

  test('failure modes come from the list of the study, and one that is used stays on it', async () => {
    const study = await backend.studies.create({ name: 'Modes', failureModes: ['tore', 'slipped'] })
    await refusal(backend.specimens.create(study.id, { name: 's', failureMode: 'burst' }))
    const specimen = await backend.specimens.create(study.id, { name: 's', failureMode: 'tore' })
    await refusal(backend.specimens.change(specimen.id, { failureMode: 'burst' }))
    await refusal(backend.studies.change(study.id, { failureModes: ['slipped'] }))
    await backend.studies.change(study.id, { failureModes: ['tore', 'burst'] })
    await backend.specimens.change(specimen.id, { failureMode: 'burst' })
    await backend.specimens.change(specimen.id, { failureMode: null })
    await backend.studies.change(study.id, { failureModes: [] })
  })

  test('specimens are changed as edits that are listed, taken back and done again', async () => {
    const study = await backend.studies.create({ name: `Edits ${home}` })
    const one = await backend.specimens.create(study.id, { name: 'one' })
    await backend.recordings.keep({ ...log(7.7), specimenId: one.id })
    const said = async () => {
      const { specimens, variants, recordings } = await backend.studies.open(study.id)
      return JSON.stringify([
        variants.map(({ name }) => name),
        specimens.map(({ updatedAt: _, ...fields }) => fields),
        recordings.map(({ id, specimen, place, rigId, calibration }) => [
          id,
          specimen?.id,
          place,
          rigId,
          calibration,
        ]),
        (await backend.edits.removed(study.id)).map(({ name }) => name),
      ])
    }
    const before = await said()
    const by = { who: 'Ada', what: 'a change' }
    const rig = await backend.rigs.create({
      name: `rig ${home}`,
      document: { ...RIG_OF_EDITS, name: `rig ${home}` },
    })
    const recordingIds = (await backend.studies.open(study.id)).recordings.map(({ id }) => id)
    const peak = { value: 5, unit: 'kgf', isAtLeast: false, step: 0.1, doubt: null, who: 'Ada' } as const
    const typed = await backend.edits.apply(
      study.id,
      [
        { kind: 'add', name: 'two', variant: 'paste', fields: { typedPeak: peak } },
        { kind: 'to-variant', specimenId: one.id, variant: 'paste' },
        { kind: 'rig', recordingIds, rigId: rig.id, calibration: '2026-05-01' },
      ],
      by,
    )
    expect(typed.reread[0]?.after?.recording.understood).toContain('2026-05-01 applied')
    expect(typed.reread.map(({ specimen, after }) => [specimen, after?.results.peakForce.status])).toEqual([
      ['one', expect.any(String)],
      ['two', 'measured'],
    ])
    const { specimens, readings, variants } = await backend.studies.open(study.id)
    expect(specimens.map(({ variantId }) => variantId)).toEqual([variants[0]!.id, variants[0]!.id])
    expect(readings).toHaveLength(2)
    const two = specimens[1]!
    await backend.specimens.change(two.id, { widthMm: 12 }, 'Bo')
    await backend.edits.apply(study.id, [{ kind: 'merge', specimenId: two.id, others: [one.id] }], by)
    expect((await backend.edits.removed(study.id)).map(({ name }) => name)).toEqual(['one'])
    await backend.edits.apply(
      study.id,
      [{ kind: 'remove-variant', variantId: variants[0]!.id, specimensTo: null }],
      by,
    )
    await expect(backend.edits.apply(study.id, [{ kind: 'remove', specimenId: 'none' }], by)).rejects.toThrow(
      'none',
    )
    const after = await said()
    const listed = await backend.edits.list(study.id)
    expect(listed.map(({ who }) => who)).toEqual(['Ada', 'Ada', 'Bo', 'Ada'])
    await expect(backend.edits.turn(study.id, listed.at(-1)!.id, 'back')).rejects.toThrow('a later change')
    for (const { id } of listed) await backend.edits.turn(study.id, id, 'back')
    expect(await said()).toBe(before)
    expect((await backend.studies.open(study.id)).readings).toHaveLength(1)
    for (const { id } of listed.toReversed()) await backend.edits.turn(study.id, id, 'again')
    expect(await said()).toBe(after)
  })

  test('a log is kept once, counts its specimen as pulled, is read, and is never lost', async () => {
    const study = await backend.studies.create({ name: 'Logs' })
    const specimen = await backend.specimens.create(study.id, { name: 's' })
    const sent = log(40)
    const kept = await backend.recordings.keep({ ...sent, specimenId: specimen.id })
    expect(kept.isNew).toBe(true)
    expect(kept.entry).toMatchObject({
      name: 'pull 40.csv',
      samples: 240,
      logBytes: sent.bytes.length,
      startedAt: null,
      startS: 0,
      endS: 11.95,
      forceUnit: 'N',
      timeFrom: 'column',
      source: 'log',
      device: '',
      state: 'complete',
      rigId: null,
      calibrationId: null,
      calibration: null,
      study: { id: study.id, name: 'Logs' },
      specimen: { id: specimen.id, name: 's' },
      place: 0,
      setAside: null,
    })
    const again = await backend.recordings.keep({ ...sent, name: 'other.csv', specimenId: null })
    expect(again).toEqual({ entry: kept.entry, isNew: false })
    expect(await backend.recordings.bySha256(kept.entry.sha256)).toEqual(kept.entry)
    expect(await backend.recordings.bySha256('0'.repeat(64))).toBeNull()
    const open = await backend.studies.open(study.id)
    expect(open.specimens[0]?.status).toBe('pulled')
    expect(open.recordings).toEqual([kept.entry])
    expect(open.readings[0]?.reading.results.peakForce.indicatedN).toBeCloseTo(40, 3)
    expect(await backend.recordings.log(kept.entry.id)).toEqual(sent.bytes)
    const { timeS, forceN, sha256, segments } = await backend.recordings.samples(kept.entry.id)
    expect([timeS.length, forceN.length, sha256, segments.length]).toEqual([240, 240, kept.entry.sha256, 1])
    // A log that cannot be understood keeps nothing.
    const bytes = new TextEncoder().encode('no log at all')
    await refusal(backend.recordings.keep({ ...sent, bytes: new Uint8Array(bytes), specimenId: specimen.id }))
    await refusal(backend.recordings.keep({ ...log(41), specimenId: 'no-such-id' }))
    expect((await backend.recordings.list({ studyId: study.id })).items).toHaveLength(1)
    // One after another: a refusal that nobody waits for yet would be called unhandled.
    for (const call of [
      () => backend.specimens.remove(specimen.id),
      () => backend.studies.remove(study.id),
      () => backend.recordings.samples('no-such-id'),
      () => backend.recordings.place('no-such-id', null),
      () => backend.recordings.setAside('no-such-id', 'why'),
      () => backend.recordings.takeBack('no-such-id'),
    ])
      await refusal(call())
    expect((await backend.studies.open(study.id)).specimens).toHaveLength(1)
  })

  test('recordings are placed in order, set aside with a reason, taken back, and searched', async () => {
    const study = await backend.studies.create({ name: 'Places' })
    const one = await backend.specimens.create(study.id, { name: 'Öse 1' })
    const two = await backend.specimens.create(study.id, { name: 'Öse 2' })
    const ids: string[] = []
    for (const peakN of [51, 52, 53])
      ids.push((await backend.recordings.keep({ ...log(peakN), specimenId: one.id })).entry.id)
    const [a, b, c] = ids as [string, string, string]
    const order = async (specimenId: string) =>
      (await backend.studies.open(study.id)).recordings
        .filter(({ specimen }) => specimen?.id === specimenId)
        .map(({ name, place }) => `${name} ${place}`)
    expect((await backend.recordings.place(c, one.id, 0)).place).toBe(0)
    expect(await order(one.id)).toEqual(['pull 53.csv 0', 'pull 51.csv 1', 'pull 52.csv 2'])
    expect(await backend.recordings.place(b, two.id)).toMatchObject({
      place: 0,
      specimen: { id: two.id, name: 'Öse 2' },
    })
    await refusal(backend.recordings.place(b, 'no-such-id'))
    expect((await backend.recordings.place(b, null)).specimen).toBeNull()
    expect((await backend.recordings.list({ loose: true })).items.map(({ id }) => id)).toContain(b)
    await refusal(backend.recordings.setAside(a, '  '))
    const aside = await backend.recordings.setAside(a, 'wrong file')
    expect(aside.setAside?.why).toBe('wrong file')
    const found = async (search: string, withSetAside = false) =>
      (await backend.recordings.list({ search, withSetAside })).items.map(({ id }) => id)
    expect(await found('ÖSE pull')).toEqual([c])
    expect(await found('öse', true)).toEqual([c, a])
    expect(await found('öse nothing', true)).toEqual([])
    expect((await backend.recordings.takeBack(a)).setAside).toBeNull()
    // With all recordings set aside a specimen still has them.
    await backend.recordings.setAside(a, 'x')
    await backend.recordings.setAside(c, 'x')
    await refusal(backend.specimens.remove(one.id))
    await refusal(backend.studies.remove(study.id))
    const seen: string[] = []
    let after: string | undefined
    do {
      const page = await backend.recordings.list({
        withSetAside: true,
        limit: 2,
        ...(after !== undefined && { after }),
      })
      seen.push(...page.items.map(({ id }) => id))
      after = page.next ?? undefined
    } while (after !== undefined)
    expect(new Set(seen).size).toBe(seen.length)
    expect(seen).toEqual(expect.arrayContaining(ids))
  })

  test('readings: the newest first, the later of two is told, adjustments are replayed', async () => {
    const study = await backend.studies.create({ name: 'Readings' })
    const specimen = await backend.specimens.create(study.id, { name: 's' })
    expect(await backend.readings.history(specimen.id)).toEqual([])
    await refusal(backend.readings.keep(specimen.id, []))
    await backend.recordings.keep({ ...log(61), specimenId: specimen.id })
    const [first] = await backend.readings.history(specimen.id)
    const cut = {
      id: 'a1',
      who: 'me',
      when: '2024-05-01T10:00:00Z',
      why: 'a hand on the rig',
      kind: 'cut',
      fromS: 8,
      toS: 11,
    } as const
    const second = await backend.readings.keep(specimen.id, [cut], first!.id)
    const late = await refusal(backend.readings.keep(specimen.id, [], first!.id))
    expect(late.kind).toBe('Conflict')
    expect((await refusal(backend.readings.keep(specimen.id, [], null))).kind).toBe('Conflict')
    const history = await backend.readings.history(specimen.id)
    expect(history.map(({ id }) => id)).toEqual([second.id, first!.id])
    expect(history[0]?.adjustments).toEqual([cut])
    expect((await backend.studies.open(study.id)).readings.map(({ id }) => id)).toEqual([second.id])
    // A further log on the specimen is read with what was adjusted.
    await backend.recordings.keep({ ...log(62), specimenId: specimen.id })
    const [third] = await backend.readings.history(specimen.id)
    expect(third?.adjustments).toEqual([cut])
    expect(third?.recordingIds).toHaveLength(2)
  })

  test('of readings kept at once on the same one, one is written', async () => {
    const study = await backend.studies.create({ name: 'Readings at once' })
    const specimen = await backend.specimens.create(study.id, { name: 's' })
    await backend.recordings.keep({ ...log(63), specimenId: specimen.id })
    const [first] = await backend.readings.history(specimen.id)
    const kept = await Promise.allSettled(
      Array.from({ length: 4 }, () => backend.readings.keep(specimen.id, [], first!.id)),
    )
    expect(kept.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
  })

  test('notes and photos lie on what is there; photos lose where and when they were taken', async () => {
    const study = await backend.studies.create({ name: 'Beside' })
    const subject = { kind: 'study', id: study.id } as const
    const one = await backend.notes.add({ subject, text: ' <b>torn</b> ', operator: 'me' })
    expect(one).toMatchObject({ text: '<b>torn</b>', operator: 'me', subject })
    const two = await backend.notes.add({ subject, text: 'two' })
    expect(await backend.notes.list(subject)).toEqual([one, two])
    await refusal(backend.notes.add({ subject, text: '  ' }))
    await refusal(backend.notes.add({ subject: { kind: 'study', id: 'no-such-id' }, text: 'lost' }))
    await backend.notes.remove(one.id)
    await refusal(backend.notes.remove(one.id))
    expect(await backend.notes.list(subject)).toEqual([two])

    const picture = new Uint8Array(jpeg())
    const photo = await backend.photos.add(subject, 'torn.jpg', picture, 'the tear')
    expect(photo).toMatchObject({ name: 'torn.jpg', caption: 'the tear', mime: 'image/jpeg', subject })
    expect(await backend.photos.list(subject)).toEqual([photo])
    const content = (await backend.photos.content(photo.id)) as unknown as Uint8Array
    expect(content.length).toBe(photo.bytes)
    expect(content.length).toBeLessThan(picture.length)
    expect(new TextDecoder('latin1').decode(content)).not.toMatch(/GPS|Exif|xmpmeta/)
    await refusal(backend.photos.add(subject, 'not.jpg', new Uint8Array([1, 2, 3])))
    await refusal(backend.photos.add({ kind: 'specimen', id: 'no-such-id' }, 'torn.jpg', picture))
    await backend.photos.remove(photo.id)
    await refusal(backend.photos.remove(photo.id))
    await refusal(backend.photos.content(photo.id))
  })

  test('rigs with their calibrations and checks keep to their documents', async () => {
    const document = { name: 'bench', cell: { capacityN: 200 } }
    const earlier = new Set((await backend.rigs.list()).map(({ id }) => id))
    const rig = await backend.rigs.create({ name: ' bench ', document })
    expect(rig).toMatchObject({ name: 'bench', document })
    const before = await backend.rigs.create({ name: 'a first one', document })
    const since = (await backend.rigs.list()).filter(({ id }) => !earlier.has(id))
    expect(since.map(({ name }) => name)).toEqual(['a first one', 'bench'])
    for (const bad of [
      { name: 'bench', document },
      { name: ' ', document },
    ])
      await refusal(backend.rigs.create(bad))
    await refusal(backend.rigs.create({ name: 'x', document: { cell: { capacityN: -1 } } }))
    await refusal(backend.rigs.change(before.id, { name: 'bench' }))
    await refusal(backend.rigs.change(rig.id, { document: { cell: 'none' } }))
    const changed = await backend.rigs.change(rig.id, {
      document: { cell: { capacityN: 500 } },
      basedOn: rig.updatedAt,
    })
    const late = backend.rigs.change(rig.id, {
      document: { cell: { capacityN: 700 } },
      basedOn: rig.updatedAt,
    })
    expect((await refusal(late)).kind).toBe('Conflict')
    expect(changed.updatedAt > rig.updatedAt).toBe(true)
    await refusal(backend.calibrations.keep({ rigId: rig.id, madeAt: '2024-05-01T10:00:00Z', document: {} }))
    await refusal(
      backend.checks.keep({
        rigId: rig.id,
        calibrationId: null,
        madeAt: '2024-05-01T10:00:00Z',
        document: {},
      }),
    )
    expect(await backend.calibrations.list(rig.id)).toEqual([])
    expect(await backend.checks.list()).toEqual([])
    await refusal(backend.recordings.keep({ ...log(71), rigId: 'no-such-id', specimenId: null }))
    const { entry } = await backend.recordings.keep({ ...log(71), rigId: rig.id, specimenId: null })
    expect(entry.rigId).toBe(rig.id)
  })

  test('settings are kept by name and taken away', async () => {
    await backend.settings.set('app', { theme: 'dark', units: ['N', 'kgf'] })
    await backend.settings.set('rig', 5)
    expect(await backend.settings.all()).toEqual({ app: { theme: 'dark', units: ['N', 'kgf'] }, rig: 5 })
    await backend.settings.set('rig', null)
    expect(Object.keys(await backend.settings.all())).toEqual(['app'])
    await backend.settings.set('house', { sugar: 1 }, null)
    await expect(backend.settings.set('house', { flour: 1 }, null)).rejects.toThrow('changed elsewhere')
    await backend.settings.set('house', { sugar: 1, flour: 1 }, { sugar: 1 })
    expect((await backend.settings.all()).house).toEqual({ sugar: 1, flour: 1 })
    await backend.settings.set('house', null, { sugar: 1, flour: 1 })
  })
})

test('everything moves between the homes as one file, with the way back of each change', async () => {
  for (const [from, to, peakN] of [
    [homes.backend('server'), homes.backend('page'), 61.7],
    [homes.backend('page'), homes.backend('server'), 71.7],
  ] as const) {
    const study = await from.studies.create({
      name: `Moved ${crypto.randomUUID()}`,
      failureModes: ['parted'],
    })
    const hemp = await from.variants.create(study.id, { name: 'hemp', control: true })
    const [one, two] = [
      await from.specimens.create(study.id, { name: 'one', variantId: hemp.id, widthMm: 3.2 }),
      await from.specimens.create(study.id, { name: 'two' }),
    ]
    const logs = [
      await from.recordings.keep({ ...log(peakN, `${study.name} 1`), specimenId: one.id }),
      await from.recordings.keep({ ...log(peakN + 1, `${study.name} 2`), specimenId: two.id }),
    ]
    const untouched = (await from.studies.open(study.id)).specimens
    const by = { who: 'Ann', what: 'put right' }
    const edit = (...steps: Parameters<Backend['edits']['apply']>[1]) => from.edits.apply(study.id, steps, by)
    await edit(
      { kind: 'change', specimenId: one.id, fields: { name: 'first', failureMode: 'parted', elements: 2 } },
      { kind: 'to-variant', specimenId: two.id, variant: 'flax' },
    )
    await edit({ kind: 'merge', specimenId: one.id, others: [two.id] })
    const removed = await edit({ kind: 'remove-variant', variantId: hemp.id, specimensTo: null })
    await from.edits.turn(study.id, removed.edit?.id ?? '', 'back')

    const content = (await from.whole.save()) as unknown as Uint8Array<ArrayBuffer>
    const file = { fileName: 'all.jsonl.gz', content } as unknown as File
    expect((await to.whole.take(file)).added).toBeGreaterThan(12)
    expect((await to.whole.take(file)).added).toBe(0)
    const edits = await to.edits.list(study.id)
    expect(edits).toEqual(await from.edits.list(study.id))
    expect(edits.map(({ takenBackAt }) => takenBackAt !== null)).toEqual([true, false, false])
    const hashes = async (home: Backend) =>
      (await home.studies.open(study.id)).recordings.map(({ id, sha256, place }) => [id, sha256, place])
    expect(await hashes(to)).toEqual(await hashes(from))
    expect((await hashes(to)).map(([, sha256]) => sha256)).toEqual(logs.map(({ entry }) => entry.sha256))
    // What was done in one home is taken back in the other, as if it had been done there.
    for (const { id } of edits.slice(1)) await to.edits.turn(study.id, id, 'back')
    const back = (await to.studies.open(study.id)).specimens
    const said = (specimens: typeof back) => specimens.map(({ updatedAt: _, ...rest }) => rest)
    expect(said(back)).toEqual(said(untouched))
    for (const { id } of edits.slice(1).toReversed()) await to.edits.turn(study.id, id, 'again')
    expect(await hashes(to)).toEqual(await hashes(from))
    // And home again: the edits were turned meanwhile, but nothing is there twice.
    const again = (await to.whole.save()) as unknown as Uint8Array<ArrayBuffer>
    const before = await from.edits.list(study.id)
    await from.whole.take({ fileName: 'back.jsonl.gz', content: again } as unknown as File)
    expect(await from.edits.list(study.id)).toEqual(before)
  }
}, 60_000)

test('a file that the server does not take in says which it is, and nothing is added', async () => {
  const server = homes.backend('server')
  const before = await server.studies.list()
  const content = new TextEncoder().encode('no archive')
  const file = { fileName: 'holiday.jpg', content } as unknown as File
  const answer = await refusal(server.whole.take(file))
  expect(answer.problems[0]?.where).toBe('holiday.jpg')
  expect(await server.studies.list()).toEqual(before)
})
