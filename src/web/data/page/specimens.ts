import { changedText } from '../../../core/changedText.ts'
import type { NewSpecimen, Specimen, SpecimenPatch } from '../../../server/apiTypes.ts'
import type { Engine } from '../../engine/types.ts'
import type { Backend, Based } from '../backend.ts'
import { found, nowIso, pageDb, writing } from './db.ts'
import { pageEdits } from './edits.ts'
import { given, hasRecordings, nameFrom, refuseMisfits, refuseTaken } from './rules.ts'
import { blankSpecimen, wholeSpecimen } from './specimenShape.ts'

const TABLES = ['studies', 'variants', 'specimens'] as const

export const createSpecimen = (studyId: string, fields: NewSpecimen): Promise<Specimen> =>
  writing(TABLES, async change => {
    const study = found(await change.objectStore('studies').get(studyId), 'study', studyId)
    refuseMisfits(study, await change.objectStore('variants').index('studyId').getAll(studyId), fields)
    const specimens = change.objectStore('specimens')
    const name = nameFrom('specimen', fields.name)
    refuseTaken('specimen', name, await specimens.index('studyId').getAll(studyId))
    const at = nowIso()
    const specimen = blankSpecimen(studyId, name, fields, at)
    await specimens.add(specimen)
    return specimen
  })

export const pageSpecimens = (engine: Engine): Backend['specimens'] => ({
  create: createSpecimen,
  async change(id, { basedOn, ...patch }: Based<SpecimenPatch>, who = '') {
    const { studyId, name } = found(await (await pageDb()).get('specimens', id), 'specimen', id)
    const fields = given<Partial<Specimen>>(patch)
    const step = {
      kind: 'change',
      specimenId: id,
      fields,
      ...(basedOn !== undefined && { basedOn }),
    } as const
    await pageEdits(engine).apply(studyId, [step], { who, what: changedText(name, fields) })
    return wholeSpecimen(found(await (await pageDb()).get('specimens', id), 'specimen', id))
  },
  remove: id =>
    writing(['specimens', 'recordings', 'readings'], async change => {
      const specimen = found(await change.objectStore('specimens').get(id), 'specimen', id)
      const recordings = await change.objectStore('recordings').getAll()
      if (recordings.some(({ specimenId }) => specimenId === id))
        throw hasRecordings(
          `specimen “${specimen.name}”`,
          'Leave the specimen out with a reason, or place its recordings elsewhere first.',
        )
      const readings = change.objectStore('readings')
      for (const key of await readings.index('specimenId').getAllKeys(id)) await readings.delete(key)
      await change.objectStore('specimens').delete(id)
    }),
})
