import { describe, expect, test } from 'vitest'
import type { SpecimenEdit, Store } from '../../src/store/index.ts'
import { CALIBRATION_KEY, editsGoBack, RIG_OF_EDITS } from './anyEdits.ts'
import { pretendRecording } from './pretendRecording.ts'
import { bad, ENGINES, good, inStore } from './stores.ts'

const BY = { who: 'Ada', what: 'a change' }

/** A study of two variants and four specimens, the first with three logs, the others with one. */
async function filled(store: Store) {
  const ids: string[] = []
  const recordings: string[] = []
  for (const [i, variant] of ['paste', 'paste', 'stitch', 'stitch'].entries()) {
    const specimen = good(
      await store.specimens.named({ study: 'Handles', variant, specimen: `${variant} ${i + 1}` }),
    )
    ids.push(specimen.id)
    for (let log = 0; log < (i === 0 ? 3 : 1); log++) {
      const { entry } = good(
        await store.recordings.save({
          ...pretendRecording(`${i}-${log}.csv`, [i, log, 3]),
          source: 'log',
          specimenId: specimen.id,
        }),
      )
      recordings.push(entry.id)
    }
  }
  const rig = good(await store.rigs.create({ name: 'bench', document: RIG_OF_EDITS }))
  const [study] = await store.studies.list()
  const variants = await store.variants.list(study!.id)
  return { studyId: study!.id, ids, recordings, rigId: rig.id, variants: variants.map(({ id }) => id) }
}

/** All that a person said of a study, without the times of change. */
async function said(store: Store, studyId: string): Promise<string> {
  const bare = (all: readonly object[]) =>
    all
      .map(one => ({ ...one, updatedAt: null }))
      .sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1))
  const { items } = await store.recordings.list({ studyId, limit: 100 })
  return JSON.stringify([
    bare(await store.variants.list(studyId)),
    bare(await store.specimens.list(studyId)),
    bare(await store.specimens.removed(studyId)),
    bare(items),
  ])
}

describe.each(ENGINES)('edits of specimens ($name)', engine => {
  test('rename, move, split, merge, remove, rig: each does what it says, is listed, and is taken back', () =>
    inStore(engine, async store => {
      const { studyId, ids, recordings, rigId, variants } = await filled(store)
      const [one, two, three] = ids as [string, string, string]
      const step = async (...steps: SpecimenEdit[]) => good(await store.edits.apply(studyId, steps, BY))!
      const before = await said(store, studyId)
      await step({ kind: 'change', specimenId: one, fields: { name: 'first', widthMm: 20 } })
      expect(good(await store.specimens.get(one))).toMatchObject({ name: 'first', widthMm: 20 })
      await step({ kind: 'to-variant', specimenId: one, variant: 'tape' })
      expect((await store.variants.list(studyId)).map(({ name }) => name)).toContain('tape')
      await step({ kind: 'split', specimenId: one, recordingIds: [recordings[1]!], name: 'first b' })
      const logsOf = async (specimenId: string) =>
        [...(await store.recordings.list({ specimenId })).items]
          .sort((a, b) => a.place - b.place)
          .map(({ name }) => name)
      expect(await logsOf(one)).toEqual(['0-0.csv', '0-2.csv'])
      await step({ kind: 'merge', specimenId: two, others: [one] })
      expect(await logsOf(two)).toEqual(['1-0.csv', '0-0.csv', '0-2.csv'])
      expect((await store.specimens.removed(studyId)).map(({ id }) => id)).toEqual([one])
      await step({
        kind: 'order-logs',
        specimenId: two,
        recordingIds: [recordings[0]!, recordings[3]!, recordings[2]!],
      })
      expect(await logsOf(two)).toEqual(['0-0.csv', '1-0.csv', '0-2.csv'])
      await step({ kind: 'rig', recordingIds: recordings, rigId })
      expect(good(await store.recordings.get(recordings[0]!))).toMatchObject({ rigId, calibration: null })
      await step({ kind: 'rig', recordingIds: recordings, rigId, calibration: CALIBRATION_KEY })
      expect(good(await store.recordings.get(recordings[0]!))).toMatchObject({
        rigId,
        calibration: CALIBRATION_KEY,
      })
      const unknown: SpecimenEdit = { kind: 'rig', recordingIds: recordings, rigId, calibration: '2020' }
      expect(bad(await store.edits.apply(studyId, [unknown], BY))).toContain('bench has no such calibration')
      await step({ kind: 'remove-variant', variantId: variants[1]!, specimensTo: null })
      expect(good(await store.specimens.get(three)).variantId).toBeNull()
      await step({ kind: 'add', name: 'late', variant: 'paste' })
      const edits = await store.edits.list(studyId)
      expect(edits).toHaveLength(9)
      expect(edits.every(({ who, takenBackAt }) => who === 'Ada' && takenBackAt === null)).toBe(true)
      const after = await said(store, studyId)
      for (const { id } of edits) good(await store.edits.takeBack(id))
      expect(await said(store, studyId)).toBe(before)
      for (const { id } of edits.toReversed()) good(await store.edits.doAgain(id))
      expect(await said(store, studyId)).toBe(after)
      expect((await store.care.verify()).findings).toEqual([])
    }))

  test('an edit is all or nothing, and one below a later change of the same waits for that', () =>
    inStore(engine, async store => {
      const { studyId, ids } = await filled(store)
      const before = await said(store, studyId)
      const rename = (name: string, specimenId = ids[0]!): SpecimenEdit => ({
        kind: 'change',
        specimenId,
        fields: { name },
      })
      expect(bad(await store.edits.apply(studyId, [rename('x'), rename('x', ids[1])], BY))).toContain(
        'of this name',
      )
      expect(await said(store, studyId)).toBe(before)
      expect(await store.edits.list(studyId)).toEqual([])
      const first = good(await store.edits.apply(studyId, [rename('x')], BY))!
      const second = good(await store.edits.apply(studyId, [rename('y')], BY))!
      expect(bad(await store.edits.takeBack(first.id))).toContain('a later change touched the same')
      good(await store.edits.takeBack(second.id))
      good(await store.edits.takeBack(first.id))
      expect(await said(store, studyId)).toBe(before)
      expect(good(await store.edits.apply(studyId, [rename('paste 1')], BY))).toBeNull()
    }))

  test('names that were exchanged come back', () =>
    inStore(engine, async store => {
      const { studyId, ids } = await filled(store)
      const before = await said(store, studyId)
      const rename = (at: number, name: string): SpecimenEdit => ({
        kind: 'change',
        specimenId: ids[at]!,
        fields: { name },
      })
      const edit = good(
        await store.edits.apply(studyId, [rename(0, 'z'), rename(1, 'paste 1'), rename(0, 'paste 2')], BY),
      )!
      good(await store.edits.takeBack(edit.id))
      expect(await said(store, studyId)).toBe(before)
    }))

  test('after any edits and undo the study is exactly what it was', () =>
    inStore(engine, async store => {
      const { studyId, ...study } = await filled(store)
      await editsGoBack(
        async () => ({
          study,
          said: () => said(store, studyId),
          async apply(step) {
            const edit = await store.edits.apply(studyId, [step], BY)
            return edit.ok ? (edit.value?.id ?? null) : null
          },
          async turn(id, way) {
            good(await (way === 'back' ? store.edits.takeBack(id) : store.edits.doAgain(id)))
          },
        }),
        40,
      )
    }))
})
