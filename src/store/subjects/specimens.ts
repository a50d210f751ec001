import type { Selectable, Updateable } from 'kysely'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { BLANK_SPECIMEN } from '../../core/study.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Specimens } from '../store.ts'
import type { Specimen, SpecimenFields, Study } from '../types.ts'
import {
  changedSince,
  changing,
  type Db,
  fromJson,
  givenColumns,
  isThere,
  laterThan,
  nameTaken,
  notThere,
  nowIso,
} from './common.ts'
import { refreshSearch } from './searchText.ts'
import { createStudy, getStudy, studyNamed } from './studies.ts'
import { createVariant, variantNamed } from './variants.ts'

const fromRow = (row: Selectable<Tables['specimen']>): Specimen => ({
  id: row.id,
  studyId: row.study_id,
  variantId: row.variant_id,
  name: row.name,
  status: row.status as Specimen['status'],
  statusReason: row.status_reason,
  failureMode: row.failure_mode,
  operator: row.operator,
  batch: row.batch,
  temperatureC: row.temperature_c,
  humidityPct: row.humidity_pct,
  widthMm: row.width_mm,
  thicknessMm: row.thickness_mm,
  lengthMm: row.length_mm,
  elements: row.elements,
  note: row.note,
  pulledOn: row.pulled_on,
  pullOrder: row.pull_order,
  typedPeak: row.typed_peak === null ? null : fromJson(row.typed_peak),
  createdAt: row.created_at,
  updatedAt: row.updated_at,
})

const columnsOf = (fields: Partial<SpecimenFields>) =>
  givenColumns<SpecimenFields, Updateable<Tables['specimen']>>(fields, {
    name: name => ({ name }),
    variantId: variant_id => ({ variant_id }),
    status: status => ({ status }),
    statusReason: status_reason => ({ status_reason }),
    failureMode: failure_mode => ({ failure_mode }),
    operator: operator => ({ operator }),
    batch: batch => ({ batch }),
    temperatureC: temperature_c => ({ temperature_c }),
    humidityPct: humidity_pct => ({ humidity_pct }),
    widthMm: width_mm => ({ width_mm }),
    thicknessMm: thickness_mm => ({ thickness_mm }),
    lengthMm: length_mm => ({ length_mm }),
    elements: elements => ({ elements }),
    note: note => ({ note }),
    pulledOn: pulled_on => ({ pulled_on }),
    pullOrder: pull_order => ({ pull_order }),
    typedPeak: typed => ({ typed_peak: typed === null ? null : JSON.stringify(typed) }),
  })

export async function getSpecimen(db: Db, id: string): Promise<Outcome<Specimen>> {
  const row = await db.selectFrom('specimen').selectAll().where('id', '=', id).executeTakeFirst()
  return isThere(row) ? fine(fromRow(row)) : notThere('specimen', id)
}

async function specimenNamed(db: Db, studyId: string, name: string): Promise<Specimen | null> {
  const row = await db
    .selectFrom('specimen')
    .selectAll()
    .where('study_id', '=', studyId)
    .where('name', '=', name)
    .executeTakeFirst()
  return isThere(row) ? fromRow(row) : null
}

export async function createSpecimen(
  db: Db,
  studyId: string,
  fields: Pick<SpecimenFields, 'name'> & Partial<SpecimenFields>,
): Promise<Outcome<Specimen>> {
  const study = await getStudy(db, studyId)
  if (!study.ok) return study
  const problems = await misfits(db, study.value, fields)
  if (problems.length > 0) return wrong(...problems)
  if (await specimenNamed(db, studyId, fields.name)) return nameTaken('specimen', fields.name)
  const id = newId()
  // Those that are made at once stay in the order in which they were made.
  const { last } = await db
    .selectFrom('specimen')
    .where('study_id', '=', studyId)
    .select(eb => eb.fn.max('created_at').as('last'))
    .executeTakeFirstOrThrow()
  const at = last === null ? nowIso() : laterThan(last)
  const columns = columnsOf({ ...BLANK_SPECIMEN, ...fields }) as Tables['specimen']
  await db
    .insertInto('specimen')
    .values({ ...columns, id, study_id: studyId, created_at: at, updated_at: at })
    .execute()
  return getSpecimen(db, id)
}

/** A variant of another study, or a failure mode that is not on the study's list. */
async function misfits(
  db: Db,
  study: Study,
  { variantId, failureMode }: Partial<SpecimenFields>,
): Promise<Problem[]> {
  const problems: Problem[] = []
  const variant =
    variantId == null
      ? null
      : await db.selectFrom('variant').select('study_id').where('id', '=', variantId).executeTakeFirst()
  if (variantId != null && variant?.study_id !== study.id)
    problems.push({
      where: 'variant',
      what: `the study “${study.name}” has no such variant.`,
      cure: 'Choose one of its variants.',
    })
  if (failureMode != null && !study.failureModes.includes(failureMode))
    problems.push({
      where: 'failure mode',
      what: `“${failureMode}” is not on the list of the study “${study.name}”.`,
      cure: `Take one of its list${study.failureModes.length > 0 ? ` (${study.failureModes.join(', ')})` : ''}, or add it there.`,
    })
  return problems
}

/** Changes what is given. `basedOn` as with studies. */
export async function updateSpecimen(
  db: Db,
  id: string,
  fields: Partial<SpecimenFields>,
  basedOn?: string,
): Promise<Outcome<Specimen>> {
  const specimen = await getSpecimen(db, id)
  if (!specimen.ok) return specimen
  if (basedOn !== undefined && basedOn !== specimen.value.updatedAt)
    return changedSince(`specimen “${specimen.value.name}”`)
  const study = await getStudy(db, specimen.value.studyId)
  if (!study.ok) return study
  const problems = await misfits(db, study.value, fields)
  if (problems.length > 0) return wrong(...problems)
  const sameName = fields.name === undefined ? null : await specimenNamed(db, study.value.id, fields.name)
  if (sameName && sameName.id !== id) return nameTaken('specimen', sameName.name)
  await db
    .updateTable('specimen')
    .set({ ...columnsOf(fields), updated_at: laterThan(specimen.value.updatedAt) })
    .where('id', '=', id)
    .execute()
  if (fields.name !== undefined) await refreshSearch(db, { specimenId: id })
  return getSpecimen(db, id)
}

const listed = async (db: Db, studyId: string, removed: boolean): Promise<Specimen[]> => {
  const rows = await db
    .selectFrom('specimen')
    .selectAll()
    .where('study_id', '=', studyId)
    .where('removed_at', removed ? 'is not' : 'is', null)
    .orderBy('created_at')
    .orderBy('name')
    .execute()
  return rows.map(fromRow)
}

export const specimens = ({ db }: Engine): Specimens => ({
  list: studyId => listed(db, studyId, false),
  removed: studyId => listed(db, studyId, true),
  get: id => getSpecimen(db, id),
  create: (studyId, fields) => changing(db, trx => createSpecimen(trx, studyId, fields)),
  update: (id, fields, basedOn) => changing(db, trx => updateSpecimen(trx, id, fields, basedOn)),
  remove: id =>
    changing(db, async trx => {
      const specimen = await getSpecimen(trx, id)
      if (!specimen.ok) return specimen
      const placed = await trx
        .selectFrom('placement')
        .select('recording_id')
        .where('specimen_id', '=', id)
        .executeTakeFirst()
      if (placed)
        return wrong({
          where: `specimen “${specimen.value.name}”`,
          what: 'it has recordings, which are never deleted.',
          cure: 'Leave the specimen out with a reason, or place its recordings elsewhere first.',
        })
      await trx.deleteFrom('specimen').where('id', '=', id).execute()
      return fine(null)
    }),
  named: ({ study, variant, specimen }) =>
    changing(db, async trx => {
      const found = await studyNamed(trx, study)
      const inStudy = found ? fine(found) : await createStudy(trx, { name: study })
      if (!inStudy.ok) return inStudy
      const studyId = inStudy.value.id
      const there = variant === null ? null : await variantNamed(trx, studyId, variant)
      const ofVariant =
        variant === null || there ? fine(there) : await createVariant(trx, studyId, { name: variant })
      if (!ofVariant.ok) return ofVariant
      const variantId = ofVariant.value?.id ?? null
      const known = await specimenNamed(trx, studyId, specimen)
      if (!known) return createSpecimen(trx, studyId, { name: specimen, variantId })
      if (variantId !== null && known.variantId !== variantId)
        return wrong({
          where: `specimen “${specimen}”`,
          what: `in the study “${study}” it is of another variant, not “${variant}”.`,
          cure: 'Leave the variant out, or name another specimen.',
        })
      return fine(known)
    }),
})
