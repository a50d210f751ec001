import type { Problem } from '../../../core/problem.ts'
import { BLANK_SPECIMEN } from '../../../core/study.ts'
import type { NewSpecimen, Specimen, SpecimenPatch, Study, Variant } from '../../../server/apiTypes.ts'
import type { Backend, Based } from '../backend.ts'
import { Trouble } from '../trouble.ts'
import { found, laterThan, newId, nowIso, writing } from './db.ts'
import { given, hasRecordings, nameFrom, refuseStale, refuseTaken } from './rules.ts'

const TABLES = ['studies', 'variants', 'specimens'] as const

export const pageSpecimens: Backend['specimens'] = {
  create: (studyId, fields: NewSpecimen) =>
    writing(TABLES, async change => {
      const study = found(await change.objectStore('studies').get(studyId), 'study', studyId)
      refuseMisfits(study, await change.objectStore('variants').index('studyId').getAll(studyId), fields)
      const specimens = change.objectStore('specimens')
      const name = nameFrom('specimen', fields.name)
      refuseTaken('specimen', name, await specimens.index('studyId').getAll(studyId))
      const at = nowIso()
      const specimen: Specimen = {
        ...BLANK_SPECIMEN,
        ...given<Partial<Specimen>>(fields),
        name,
        id: newId(),
        studyId,
        createdAt: at,
        updatedAt: at,
      }
      await specimens.add(specimen)
      return specimen
    }),
  change: (id, { basedOn, ...patch }: Based<SpecimenPatch>) =>
    writing(TABLES, async change => {
      const specimens = change.objectStore('specimens')
      const specimen = found(await specimens.get(id), 'specimen', id)
      const { studyId } = specimen
      refuseStale(`specimen “${specimen.name}”`, specimen, basedOn)
      const study = found(await change.objectStore('studies').get(studyId), 'study', studyId)
      refuseMisfits(study, await change.objectStore('variants').index('studyId').getAll(studyId), patch)
      const name = patch.name === undefined ? specimen.name : nameFrom('specimen', patch.name)
      if (name !== specimen.name)
        refuseTaken('specimen', name, await specimens.index('studyId').getAll(studyId), id)
      const changed: Specimen = {
        ...specimen,
        ...given<Partial<Specimen>>(patch),
        name,
        updatedAt: laterThan(specimen.updatedAt),
      }
      await specimens.put(changed)
      return changed
    }),
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
}

export const inTime = (a: Specimen, b: Specimen): number =>
  a.createdAt < b.createdAt || (a.createdAt === b.createdAt && a.name < b.name) ? -1 : 1

/** A variant of another study, or a failure mode that is not on the study's list. */
function refuseMisfits(
  study: Study,
  variants: readonly Variant[],
  { variantId, failureMode }: SpecimenPatch,
): void {
  const problems: Problem[] = []
  if (variantId != null && !variants.some(({ id }) => id === variantId))
    problems.push({
      where: 'variant',
      what: `the study “${study.name}” has no such variant.`,
      cure: 'Choose one of its variants.',
    })
  if (failureMode != null && !study.failureModes.includes(failureMode))
    problems.push({
      where: 'failure mode',
      what: `“${failureMode}” is not on the list of the study “${study.name}”.`,
      cure: 'Take one of its list, or add it there.',
    })
  if (problems.length > 0) throw new Trouble(problems)
}
