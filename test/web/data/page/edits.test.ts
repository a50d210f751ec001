// The package declares its side-effect module beside its exports, where a bundler's resolution does not look.
/// <reference path="../../../../node_modules/fake-indexeddb/auto.d.ts" />
import 'fake-indexeddb/auto'
import { deleteDB } from 'idb'
import { test, vi } from 'vitest'
import { pageSamples } from '../../../../src/web/data/page/db.ts'
import { pageBackend } from '../../../../src/web/data/pageBackend.ts'
import { makeEngine } from '../../../../src/web/engine/makeEngine.ts'
import type { PageEngine } from '../../../../src/web/line/types.ts'
import { editsGoBack, RIG_OF_EDITS } from '../../../store/anyEdits.ts'
import { pretendRecording } from '../../../store/pretendRecording.ts'

/** Studies of the page that opens from disk: its own code, over a storage of the browser's kind in memory. */
const backend = pageBackend(makeEngine(pageSamples) as PageEngine)

// Node 20 has none; only whether storage may be cleared is asked of it.
vi.stubGlobal('navigator', {})

const BY = { who: 'Ada', what: 'a change' }

/** At rest, up to a peak, and broken. */
const pull = (half: number, peak: number) => [...Array(10).fill(0), 2, half, peak, ...Array(10).fill(0)]

/** A study of two variants and four specimens, the first with three logs, the others with one. */
async function filled() {
  const study = await backend.studies.create({ name: 'Handles' })
  const paste = await backend.variants.create(study.id, { name: 'paste' })
  const stitch = await backend.variants.create(study.id, { name: 'stitch' })
  const ids: string[] = []
  const recordings: string[] = []
  for (const [i, { id: variantId, name }] of [paste, paste, stitch, stitch].entries()) {
    const specimen = await backend.specimens.create(study.id, { name: `${name} ${i + 1}`, variantId })
    ids.push(specimen.id)
    for (let log = 0; log < (i === 0 ? 3 : 1); log++) {
      const bytes = new Uint8Array(pretendRecording('', pull(5 + i, 20 + log)).log)
      const kept = { name: `${i}-${log}.csv`, bytes, options: {}, rigId: null, specimenId: specimen.id }
      recordings.push((await backend.recordings.keep(kept)).entry.id)
    }
  }
  const rig = await backend.rigs.create({ name: 'bench', document: RIG_OF_EDITS })
  return { studyId: study.id, ids, recordings, rigId: rig.id, variants: [paste.id, stitch.id] }
}

/** All that a person said of a study, and what its specimens read, without the times of change. */
async function said(studyId: string): Promise<string> {
  const bare = (all: readonly object[]) =>
    all
      .map(one => ({ ...one, updatedAt: null }))
      .sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1))
  const { variants, specimens, recordings, readings } = await backend.studies.open(studyId)
  return JSON.stringify([
    bare(variants),
    bare(specimens),
    bare(await backend.edits.removed(studyId)),
    bare(recordings),
    bare(readings.map(({ specimenId, recordingIds, reading }) => ({ specimenId, recordingIds, reading }))),
  ])
}

test('after any edits and undo a study of the page is exactly what it was, and so are its readings', async () => {
  // An empty storage each time: every reading that is made is kept, and all are looked through.
  await editsGoBack(async () => {
    await deleteDB('tenterhook')
    const { studyId, ...study } = await filled()
    return {
      study,
      said: () => said(studyId),
      apply: step =>
        backend.edits.apply(studyId, [step], BY).then(
          ({ edit }) => edit?.id ?? null,
          () => null,
        ),
      turn: (id, way) => backend.edits.turn(studyId, id, way).then(() => {}),
    }
  }, 20)
})
