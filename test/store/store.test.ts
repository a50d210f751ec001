import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Reading } from '../../src/core/reading/document.ts'
import type { Store } from '../../src/store/index.ts'
import { pretendRecording } from './pretendRecording.ts'
import { bad, ENGINES, good, inStore } from './stores.ts'

const bits = (values: Float64Array) => Array.from(new BigUint64Array(values.slice().buffer))

async function bytesOf(log: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = []
  for await (const part of log) parts.push(part)
  return Buffer.concat(parts)
}

const saveOne = async (
  store: Store,
  name: string,
  forces?: readonly number[],
  specimenId: string | null = null,
) => good(await store.recordings.save({ ...pretendRecording(name, forces), source: 'log', specimenId })).entry

describe.each(ENGINES)('store on $name', engine => {
  test('a study comes back as it was given, and changed where it was changed', () =>
    inStore(engine, async store => {
      const study = good(await store.studies.create({ name: 'Handles', failureModes: ['glue', 'paper'] }))
      expect(study).toMatchObject({ question: '', quantity: 'force', elements: null, archived: false })
      const changed = good(
        await store.studies.update(study.id, {
          question: 'Which holds best?',
          plan: { perGroup: 5 },
          archived: true,
        }),
      )
      expect(changed).toEqual({
        ...study,
        question: 'Which holds best?',
        plan: { perGroup: 5 },
        archived: true,
        updatedAt: changed.updatedAt,
      })
      expect(await store.studies.list()).toEqual([changed])
    }))

  test('familiar weights that were kept without a plural come back with an empty one', () =>
    inStore(engine, async store => {
      const equivalents = JSON.parse('[{"name":"house brick","massKg":2.3}]')
      const { id } = good(await store.studies.create({ name: 'Handles', equivalents }))
      expect(good(await store.studies.get(id)).equivalents).toEqual([
        { name: 'house brick', plural: '', massKg: 2.3 },
      ])
    }))

  test('names of studies, variants and specimens are taken once', () =>
    inStore(engine, async store => {
      const study = good(await store.studies.create({ name: 'Handles' }))
      expect(bad(await store.studies.create({ name: 'Handles' }))).toContain('of this name already')
      good(await store.variants.create(study.id, { name: 'paste' }))
      expect(bad(await store.variants.create(study.id, { name: 'paste' }))).toContain('variant “paste”')
      good(await store.specimens.create(study.id, { name: 'paste 1' }))
      expect(bad(await store.specimens.create(study.id, { name: 'paste 1' }))).toContain('specimen “paste 1”')
    }))

  test('a failure mode is of the study’s list, and one in use stays on it', () =>
    inStore(engine, async store => {
      const study = good(await store.studies.create({ name: 'Handles', failureModes: ['glue', 'paper'] }))
      const specimen = good(await store.specimens.create(study.id, { name: '1', failureMode: 'glue' }))
      expect(bad(await store.specimens.update(specimen.id, { failureMode: 'knot' }))).toContain('“knot”')
      expect(bad(await store.studies.update(study.id, { failureModes: ['paper'] }))).toContain('“glue”')
      expect(good(await store.specimens.get(specimen.id)).failureMode).toBe('glue')
    }))

  test('a specimen cannot be of another study’s variant', () =>
    inStore(engine, async store => {
      const [one, two] = [
        good(await store.studies.create({ name: '1' })),
        good(await store.studies.create({ name: '2' })),
      ]
      const variant = good(await store.variants.create(one.id, { name: 'a' }))
      expect(bad(await store.specimens.create(two.id, { name: 's', variantId: variant.id }))).toContain(
        'no such variant',
      )
    }))

  test('names make what is missing, and find it again; a clash makes nothing', () =>
    inStore(engine, async store => {
      const names = { study: 'Handles', variant: 'paste', specimen: 'paste 1' }
      const made = good(await store.specimens.named(names))
      expect(good(await store.specimens.named(names))).toEqual(made)
      expect(good(await store.specimens.named({ ...names, variant: null })).id).toBe(made.id)
      expect(bad(await store.specimens.named({ ...names, variant: 'stitch' }))).toContain('another variant')
      expect((await store.variants.list(made.studyId)).map(variant => variant.name)).toEqual(['paste'])
    }))

  test('a recording comes back sample for sample, with its log as received', () =>
    inStore(engine, async store => {
      const { recording, log } = pretendRecording('a.csv')
      const { entry, isNew } = good(
        await store.recordings.save({ recording, log, source: 'log', logOptions: { rateHz: 10 } }),
      )
      expect(isNew).toBe(true)
      const sha256 = createHash('sha256').update(log).digest('hex')
      expect(entry).toMatchObject({
        name: 'a.csv',
        sha256,
        samples: 4,
        logBytes: log.length,
        startS: 0,
        endS: 0.3,
      })
      const loaded = good(await store.recordings.load(entry.id))
      expect(bits(loaded.timeS)).toEqual(bits(recording.timeS))
      expect(bits(loaded.channels[0]!.values)).toEqual(bits(recording.channels[0]!.values))
      expect(loaded).toEqual({
        ...recording,
        sha256,
        segments: [{ ...recording.segments[0], sha256 }],
        // The log tells its sign by what was taken for granted: nothing was turned.
        tension: { turned: false, told: false },
      })
      expect(await bytesOf(store.recordings.log(entry.id))).toEqual(Buffer.from(log))
      expect(good(await store.recordings.logOptions(entry.id))).toEqual({ rateHz: 10 })
    }))

  test('a recording longer than a chunk, its log in odd pieces', () =>
    inStore(engine, async store => {
      const { recording, log } = pretendRecording(
        'long.csv',
        Array.from({ length: 150_001 }, (_, i) => Math.round(1000 * Math.sin(i / 999)) / 10),
      )
      async function* pieces() {
        for (let from = 0; from < log.length; from += 77_777) yield log.subarray(from, from + 77_777)
      }
      const { entry } = good(await store.recordings.save({ recording, log: pieces(), source: 'live' }))
      const { forceN } = good(await store.recordings.load(entry.id))
      expect(Buffer.compare(Buffer.from(forceN.buffer), Buffer.from(recording.forceN.buffer))).toBe(0)
      expect(Buffer.compare(await bytesOf(store.recordings.log(entry.id)), log)).toBe(0)
    }))

  test('an empty recording is kept too', () =>
    inStore(engine, async store => {
      const { entry } = good(
        await store.recordings.save({ ...pretendRecording('empty', []), source: 'live' }),
      )
      expect(entry).toMatchObject({ samples: 0, startS: null, endS: null })
      expect(good(await store.recordings.load(entry.id)).forceN).toHaveLength(0)
    }))

  test('the same log is one recording; the same live bytes are two', () =>
    inStore(engine, async store => {
      const first = await saveOne(store, 'a.csv')
      const again = good(await store.recordings.save({ ...pretendRecording('copy of a.csv'), source: 'log' }))
      expect(again).toEqual({ entry: first, isNew: false })
      const live = good(await store.recordings.save({ ...pretendRecording('a.csv'), source: 'live' }))
      expect(live.isNew).toBe(true)
      expect((await store.recordings.bySha256(first.sha256)).map(entry => entry.id).sort()).toEqual(
        [first.id, live.entry.id].sort(),
      )
    }))

  test('an id of the caller’s is saved once, so that a recovery may be repeated', () =>
    inStore(engine, async store => {
      const added = {
        ...pretendRecording('j'),
        source: 'live',
        state: 'recovered',
        id: 'journal-17',
      } as const
      const first = good(await store.recordings.save(added))
      expect(first.entry).toMatchObject({ id: 'journal-17', state: 'recovered' })
      expect(good(await store.recordings.save(added))).toEqual({ ...first, isNew: false })
    }))

  test('bytes that are not those of the samples are refused', () =>
    inStore(engine, async store => {
      const { recording, log } = pretendRecording('a.csv')
      const outcome = await store.recordings.save({
        recording: { ...recording, sha256: '0'.repeat(64) },
        log,
        source: 'log',
      })
      expect(bad(outcome)).toContain('not those that the samples were read from')
      expect((await store.recordings.list()).items).toEqual([])
    }))

  test('an id may be cut to its first letters, where only one begins so', () =>
    inStore(engine, async store => {
      for (const id of ['abcd-one', 'abce-two'])
        good(await store.recordings.save({ ...pretendRecording(id), source: 'live', id }))
      expect(good(await store.recordings.get('abcd')).id).toBe('abcd-one')
      expect(bad(await store.recordings.get('abc'))).toContain('no such')
      expect(bad(await store.recordings.get('ab%'))).toContain('no such')
      good(await store.recordings.save({ ...pretendRecording('x'), source: 'live', id: 'abcd-three' }))
      expect(bad(await store.recordings.get('abcd'))).toContain('several')
    }))

  test('placing, setting aside and taking back; the specimen counts as pulled', () =>
    inStore(engine, async store => {
      const specimen = good(await store.specimens.named({ study: 'S', variant: null, specimen: 's' }))
      const one = await saveOne(store, 'one', [1, 2], specimen.id)
      const two = await saveOne(store, 'two', [3, 4])
      expect(good(await store.recordings.place(two.id, specimen.id)).place).toBe(1)
      expect(good(await store.specimens.get(specimen.id)).status).toBe('pulled')
      expect(bad(await store.specimens.remove(specimen.id))).toContain('never deleted')
      expect(bad(await store.studies.remove(specimen.studyId))).toContain('2 recordings')
      expect(good(await store.recordings.setAside(one.id, 'wrong file')).setAside?.why).toBe('wrong file')
      expect((await store.recordings.list()).items.map(entry => entry.id)).toEqual([two.id])
      expect((await store.recordings.list({ withSetAside: true })).items).toHaveLength(2)
      expect(good(await store.recordings.takeBack(one.id)).setAside).toBeNull()
      good(await store.recordings.place(two.id, null))
      expect((await store.recordings.list({ loose: true })).items.map(entry => entry.id)).toEqual([two.id])
      expect((await store.recordings.list({ specimenId: specimen.id })).items.map(e => e.id)).toEqual([
        one.id,
      ])
    }))

  test('lists come in pages without loss or repeat', () =>
    inStore(engine, async store => {
      const ids = new Set<string>()
      for (let i = 0; i < 23; i++) ids.add((await saveOne(store, `r${i}`, [i, i + 1])).id)
      const seen: string[] = []
      let after: string | undefined
      do {
        const page = await store.recordings.list({ limit: 5, ...(after === undefined ? {} : { after }) })
        seen.push(...page.items.map(entry => entry.id))
        after = page.next ?? undefined
      } while (after !== undefined)
      expect(seen).toHaveLength(23)
      expect(new Set(seen)).toEqual(ids)
    }))

  test('a search wants all words, in any field, whatever their case, and takes signs as they are', () =>
    inStore(engine, async store => {
      const specimen = good(
        await store.specimens.named({ study: 'Tüten', variant: null, specimen: 'Paste 3' }),
      )
      const one = await saveOne(store, '100%_sure.csv', [1], specimen.id)
      await saveOne(store, 'other.csv', [2])
      const found = async (search: string) =>
        (await store.recordings.list({ search })).items.map(entry => entry.id)
      expect(await found('paste SURE')).toEqual([one.id])
      expect(await found('paste other')).toEqual([])
      expect(await found('100%_')).toEqual([one.id])
      expect(await found('0%s')).toEqual([])
      expect(await found('TÜTEN')).toEqual([one.id])
      expect(await found(one.sha256.slice(0, 12))).toEqual([one.id])
      expect(await found("' or 1=1 --")).toEqual([])
      good(await store.specimens.update(specimen.id, { name: 'Öse 4' }))
      expect(await found('paste')).toEqual([])
      expect(await found('öse')).toEqual([one.id])
      good(await store.studies.update(specimen.studyId, { name: 'Beutel' }))
      expect(await found('tüten')).toEqual([])
      good(await store.recordings.place(one.id, null))
      expect(await found('beutel')).toEqual([])
    }))

  test('readings are added to a history, the newest first', () =>
    inStore(engine, async store => {
      const specimen = good(await store.specimens.named({ study: 'S', variant: null, specimen: 's' }))
      const entry = await saveOne(store, 'r', [1, 2], specimen.id)
      const save = async (valueN: number) =>
        good(
          await store.readings.save({
            specimenId: specimen.id,
            recordingIds: [entry.id],
            engine: '0.1.0',
            adjustments: [{ kind: 'elements', elements: 8 }],
            options: { elements: 8 },
            reading: { results: { peakForce: { status: 'measured', valueN, uncertaintyN: 1 } } } as Reading,
          }),
        )
      const [first, second] = [await save(60), await save(61)]
      expect(await store.readings.history({ specimenId: specimen.id })).toEqual([second, first])
      expect(await store.readings.history({ recordingId: entry.id })).toEqual([second, first])
      expect(await store.readings.latestOfStudy(specimen.studyId)).toEqual([second])
      expect(second.adjustments).toEqual([{ kind: 'elements', elements: 8 }])
      expect(bad(await store.readings.save({ ...first, recordingIds: [entry.id, 'gone'] }))).toContain(
        'no such recording',
      )
      expect(await store.readings.history({ specimenId: specimen.id })).toHaveLength(2)
    }))

  test('rigs, calibrations, checks, notes and settings', () =>
    inStore(engine, async store => {
      const rig = good(await store.rigs.create({ name: 'bench', document: { capacityN: 500 } }))
      expect(good(await store.rigs.update(rig.id, { document: { capacityN: 200 } })).document).toEqual({
        capacityN: 200,
      })
      const madeAt = '2026-01-02T03:04:05.000Z'
      const calibration = good(
        await store.calibrations.save({ rigId: rig.id, madeAt, document: { class: '1' } }),
      )
      expect(await store.calibrations.list(rig.id)).toEqual([calibration])
      expect(bad(await store.calibrations.save({ rigId: 'gone', madeAt, document: {} }))).toContain(
        'no such rig',
      )
      const check = good(
        await store.checks.save({
          rigId: rig.id,
          calibrationId: calibration.id,
          madeAt,
          document: { ok: true },
        }),
      )
      expect(await store.checks.list()).toEqual([check])
      const note = good(await store.notes.add({ kind: 'rig', id: rig.id }, 'squeaks', 'Kim'))
      expect(await store.notes.list({ kind: 'rig', id: rig.id })).toEqual([note])
      expect(bad(await store.notes.add({ kind: 'study', id: 'gone' }, 'x'))).toContain('no such study')
      good(await store.notes.remove(note.id))
      expect(await store.notes.list({ kind: 'rig', id: rig.id })).toEqual([])
      await store.settings.set('unit', 'kgf')
      await store.settings.set('unit', 'N')
      expect(await store.settings.all()).toEqual({ unit: 'N' })
      await store.settings.set('unit', null)
      expect(await store.settings.get('unit')).toBeNull()
      const kept = { masses: ['a bag of sugar'] }
      expect((await store.settings.set('house', kept, null)).ok).toBe(true)
      expect(await store.settings.set('house', { masses: [] }, null)).toMatchObject({
        ok: false,
        isStale: true,
      })
      expect(await store.settings.get('house')).toEqual(kept)
      expect((await store.settings.set('house', null, await store.settings.get('house'))).ok).toBe(true)
    }))

  test('many writers of one program at once lose nothing', () =>
    inStore(engine, async store => {
      await Promise.all(Array.from({ length: 20 }, (_, i) => saveOne(store, `r${i}`, [i, 2 * i])))
      expect((await store.recordings.list()).items).toHaveLength(20)
      expect((await store.care.verify()).findings).toEqual([])
    }))
})
