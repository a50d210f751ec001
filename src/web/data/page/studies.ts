import { BLANK_STUDY } from '../../../core/study.ts'
import type { NewStudy, Study, StudyPatch } from '../../../server/apiTypes.ts'
import type { Backend, Based, OpenStudy } from '../backend.ts'
import { Trouble } from '../trouble.ts'
import { found, laterThan, newId, nowIso, pageDb, writing } from './db.ts'
import { entriesOf } from './entries.ts'
import { newestReadings } from './readings.ts'
import { given, hasRecordings, inPlaces, nameFrom, refuseStale, refuseTaken } from './rules.ts'
import { inTime, wholeSpecimen } from './specimenShape.ts'

export const pageStudies: Backend['studies'] = {
  async list() {
    const studies = await (await pageDb()).getAll('studies')
    return studies.sort((a, b) =>
      a.createdAt === b.createdAt ? (a.id < b.id ? -1 : 1) : a.createdAt < b.createdAt ? 1 : -1,
    )
  },
  async open(id): Promise<OpenStudy> {
    const db = await pageDb()
    const study = found(await db.get('studies', id), 'study', id)
    const kept = await db.getAllFromIndex('specimens', 'studyId', id)
    const specimens = kept.filter(one => !one.removedAt).map(wholeSpecimen)
    return {
      study,
      variants: inPlaces(await db.getAllFromIndex('variants', 'studyId', id)),
      specimens: specimens.sort(inTime),
      readings: await newestReadings(specimens),
      recordings: await entriesOf({ studyId: id, withSetAside: true }),
    }
  },
  create: (fields: NewStudy) =>
    writing(['studies'], async change => {
      const studies = change.objectStore('studies')
      const name = nameFrom('study', fields.name)
      refuseTaken('study', name, await studies.getAll())
      const at = nowIso()
      const id = newId()
      const study: Study = {
        ...BLANK_STUDY,
        ...given<Partial<Study>>(fields),
        name,
        id,
        createdAt: at,
        updatedAt: at,
      }
      await studies.add(study)
      return study
    }),
  change: (id, { basedOn, ...patch }: Based<StudyPatch>) =>
    writing(['studies', 'specimens'], async change => {
      const studies = change.objectStore('studies')
      const study = found(await studies.get(id), 'study', id)
      refuseStale(`study “${study.name}”`, study, basedOn)
      const name = patch.name === undefined ? study.name : nameFrom('study', patch.name)
      if (name !== study.name) refuseTaken('study', name, await studies.getAll(), id)
      if (patch.failureModes) {
        const specimens = await change.objectStore('specimens').index('studyId').getAll(id)
        const used = new Set(specimens.map(({ failureMode }) => failureMode))
        refuseLostModes(study, used, patch.failureModes)
      }
      const changed: Study = {
        ...study,
        ...given<Partial<Study>>(patch),
        name,
        updatedAt: laterThan(study.updatedAt),
      }
      await studies.put(changed)
      return changed
    }),
  remove: id =>
    writing(['studies', 'variants', 'specimens', 'recordings', 'readings'], async change => {
      const study = found(await change.objectStore('studies').get(id), 'study', id)
      const specimens = change.objectStore('specimens')
      const specimenIds = new Set(await specimens.index('studyId').getAllKeys(id))
      const recordings = await change.objectStore('recordings').getAll()
      if (recordings.some(({ specimenId }) => specimenId !== null && specimenIds.has(specimenId)))
        throw hasRecordings(`study “${study.name}”`, 'Archive the study instead.')
      const readings = change.objectStore('readings')
      for (const specimenId of specimenIds) {
        for (const key of await readings.index('specimenId').getAllKeys(specimenId))
          await readings.delete(key)
        await specimens.delete(specimenId)
      }
      const variants = change.objectStore('variants')
      for (const key of await variants.index('studyId').getAllKeys(id)) await variants.delete(key)
      await change.objectStore('studies').delete(id)
    }),
}

/** A mode that specimens have stays on the list. */
function refuseLostModes(study: Study, used: ReadonlySet<string | null>, modes: readonly string[]): void {
  const lost = study.failureModes.filter(mode => used.has(mode) && !modes.includes(mode))
  if (lost.length > 0)
    throw new Trouble([
      {
        where: `study “${study.name}”`,
        what: `specimens have the failure mode “${lost.join('”, “')}”.`,
        cure: 'Give those specimens another mode first.',
      },
    ])
}
