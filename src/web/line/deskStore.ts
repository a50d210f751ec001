import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { withHash } from '../../core/withHash.ts'
import type { RecordingEntry } from '../../server/apiTypes.ts'
import type { DeskStore } from '../../server/desk/deskStore.ts'
import { found, nowIso, pageDb, writing } from '../data/page/db.ts'
import { applyEdit, EDITED } from '../data/page/editSteps.ts'
import { keepRecording, setAside } from '../data/page/recordings.ts'
import { pageRigs } from '../data/page/rigs.ts'
import { inPlaces } from '../data/page/rules.ts'
import { wholeSpecimen } from '../data/page/specimenShape.ts'
import { createSpecimen } from '../data/page/specimens.ts'
import { pageStudies } from '../data/page/studies.ts'
import { pageVariants } from '../data/page/variants.ts'
import { problemsOf } from '../data/trouble.ts'
import { sha256Hex } from '../engine/sha256.ts'

/** What is thrown where studies are kept in the page, as an answer. */
async function answered<T>(work: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return fine(await work())
  } catch (error) {
    return wrong(...problemsOf(error))
  }
}

/** What is told of a live recording. */
export const liveOf = ({
  id,
  device,
  state,
  startedAt,
}: Omit<Parameters<DeskStore['recordings']['save']>[0], 'recording' | 'log'>) => ({
  id: id ?? null,
  device: device ?? '',
  state: state ?? 'complete',
  startedAt: startedAt ?? nowIso(),
})

/** The studies of this browser, as the desk of a line asks for them. */
export const pageDeskStore: DeskStore = {
  studies: { get: id => answered(async () => found(await (await pageDb()).get('studies', id), 'study', id)) },
  variants: {
    list: async studyId => inPlaces(await (await pageDb()).getAllFromIndex('variants', 'studyId', studyId)),
  },
  specimens: {
    get: id =>
      answered(async () => wholeSpecimen(found(await (await pageDb()).get('specimens', id), 'specimen', id))),
    update: (id, fields, basedOn) =>
      answered(async () => {
        const { studyId } = found(await (await pageDb()).get('specimens', id), 'specimen', id)
        const based = basedOn === undefined ? {} : { basedOn }
        await writing(EDITED, change =>
          applyEdit(change, studyId, { kind: 'change', specimenId: id, fields, ...based }),
        )
        return wholeSpecimen(found(await (await pageDb()).get('specimens', id), 'specimen', id))
      }),
    named: names => answered(() => specimenNamed(names)),
  },
  recordings: {
    save: added =>
      answered(async () => {
        if (!(added.log instanceof Uint8Array)) throw new Error('the page keeps a log whole')
        const log = added.log.slice()
        const kept = await keepRecording({
          bytes: log,
          recording: withHash(added.recording, sha256Hex(log)),
          options: added.logOptions ?? {},
          specimenId: added.specimenId ?? null,
          rigId: added.rigId ?? null,
          calibration: null,
          live: liveOf(added),
        })
        return kept
      }),
    setAside: (id, why): Promise<Outcome<RecordingEntry>> => answered(() => setAside(id, why)),
  },
  rigs: {
    get: id => answered(async () => found(await (await pageDb()).get('rigs', id), 'rig', id)),
    list: () => pageRigs.list(),
    create: fields => answered(() => pageRigs.create(fields)),
  },
}

/** The specimen of these names; study, variant and specimen are made where they are not there yet. */
async function specimenNamed({ study, variant, specimen }: Parameters<DeskStore['specimens']['named']>[0]) {
  const db = await pageDb()
  const inStudy =
    (await db.getAll('studies')).find(({ name }) => name === study) ??
    (await pageStudies.create({ name: study }))
  const variants = await db.getAllFromIndex('variants', 'studyId', inStudy.id)
  const ofVariant =
    variant === null
      ? null
      : (variants.find(({ name }) => name === variant) ??
        (await pageVariants.create(inStudy.id, { name: variant })))
  const there = await db.getAllFromIndex('specimens', 'studyId', inStudy.id)
  return (
    there.find(({ name }) => name === specimen) ??
    (await createSpecimen(inStudy.id, { name: specimen, variantId: ofVariant?.id ?? null }))
  )
}
