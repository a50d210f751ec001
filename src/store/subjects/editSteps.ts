import { calibrationCalled, calibrationKey } from '../../core/calibration/chosen.ts'
import { parseRig } from '../../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { SpecimenEdit } from '../types.ts'
import { type Db, notThere, nowIso } from './common.ts'
import { createSpecimen, getSpecimen, updateSpecimen } from './specimens.ts'
import { createVariant, variantNamed } from './variants.ts'

/** One step of an edit, within the transaction that keeps it. Problems: what it names is not of this study, a name taken. */
export async function applyEdit(db: Db, studyId: string, step: SpecimenEdit): Promise<Outcome<unknown>> {
  switch (step.kind) {
    case 'change': {
      const own = await ofStudy(db, studyId, step.specimenId)
      return own.ok ? updateSpecimen(db, step.specimenId, step.fields, step.basedOn) : own
    }
    case 'to-variant': {
      const own = await ofStudy(db, studyId, step.specimenId)
      if (!own.ok) return own
      const variantId = step.variant === null ? fine(null) : await variantIdOf(db, studyId, step.variant)
      return variantId.ok ? updateSpecimen(db, step.specimenId, { variantId: variantId.value }) : variantId
    }
    case 'add': {
      const variantId = step.variant === null ? fine(null) : await variantIdOf(db, studyId, step.variant)
      return variantId.ok
        ? createSpecimen(db, studyId, {
            status: 'pulled',
            ...step.fields,
            name: step.name,
            variantId: variantId.value,
          })
        : variantId
    }
    case 'remove':
      return setRemoved(db, studyId, step.specimenId, nowIso())
    case 'bring-back':
      return setRemoved(db, studyId, step.specimenId, null)
    case 'split': {
      const whole = await ofStudy(db, studyId, step.specimenId)
      if (!whole.ok) return whole
      const { variantId, operator, batch, elements, status } = whole.value
      const part = await createSpecimen(db, studyId, {
        name: step.name,
        variantId,
        operator,
        batch,
        elements,
        status,
      })
      if (!part.ok) return part
      const all = await recordingsOf(db, step.specimenId)
      const moved = all.filter(id => step.recordingIds.includes(id))
      if (moved.length === 0 || moved.length === all.length || moved.length < step.recordingIds.length)
        return wrong({
          where: `specimen “${whole.value.name}”`,
          what:
            all.length === 1
              ? 'it has one recording, and one alone cannot be split.'
              : 'some of its recordings, but not all, must go to the new specimen.',
          cure:
            all.length === 1
              ? 'Rename it, or move it to another variant.'
              : `Name one or more of its ${all.length} recordings.`,
        })
      await putAll(db, part.value.id, moved)
      await putAll(
        db,
        step.specimenId,
        all.filter(id => !moved.includes(id)),
      )
      return fine(null)
    }
    case 'merge': {
      const into = await ofStudy(db, studyId, step.specimenId)
      if (!into.ok) return into
      const all = await recordingsOf(db, step.specimenId)
      for (const id of step.others) {
        const other = await ofStudy(db, studyId, id)
        if (!other.ok) return other
        if (id === step.specimenId) continue
        all.push(...(await recordingsOf(db, id)))
        const removed = await setRemoved(db, studyId, id, nowIso())
        if (!removed.ok) return removed
      }
      await putAll(db, step.specimenId, all)
      return fine(null)
    }
    case 'order-logs': {
      const own = await ofStudy(db, studyId, step.specimenId)
      if (!own.ok) return own
      const all = await recordingsOf(db, step.specimenId)
      if ([...all].sort().join() !== [...step.recordingIds].sort().join())
        return wrong({
          where: `specimen “${own.value.name}”`,
          what: 'the new order must name each of its recordings once.',
          cure: 'List them all.',
        })
      await putAll(db, step.specimenId, step.recordingIds)
      return fine(null)
    }
    case 'rig':
      return setRig(db, studyId, step)
    case 'remove-variant':
      return removeVariant(db, studyId, step)
  }
}

async function ofStudy(db: Db, studyId: string, id: string): ReturnType<typeof getSpecimen> {
  const specimen = await getSpecimen(db, id)
  return specimen.ok && specimen.value.studyId !== studyId ? notThere('specimen', id) : specimen
}

async function variantIdOf(db: Db, studyId: string, name: string): Promise<Outcome<string>> {
  const known = await variantNamed(db, studyId, name)
  if (known) return fine(known.id)
  const made = await createVariant(db, studyId, { name })
  return made.ok ? fine(made.value.id) : made
}

async function setRemoved(
  db: Db,
  studyId: string,
  id: string,
  removed_at: string | null,
): Promise<Outcome<null>> {
  const own = await ofStudy(db, studyId, id)
  if (!own.ok) return own
  // One that was removed already keeps its time: nothing came to change.
  await db
    .updateTable('specimen')
    .set({ removed_at })
    .where('id', '=', id)
    .$if(removed_at !== null, query => query.where('removed_at', 'is', null))
    .execute()
  return fine(null)
}

async function recordingsOf(db: Db, specimenId: string): Promise<string[]> {
  const rows = await db
    .selectFrom('placement')
    .select('recording_id')
    .where('specimen_id', '=', specimenId)
    .orderBy('place')
    .orderBy('recording_id')
    .execute()
  return rows.map(row => row.recording_id)
}

async function putAll(db: Db, specimenId: string, recordingIds: readonly string[]): Promise<void> {
  for (const [place, id] of recordingIds.entries())
    await db
      .updateTable('placement')
      .set({ specimen_id: specimenId, place })
      .where('recording_id', '=', id)
      .execute()
}

async function setRig(
  db: Db,
  studyId: string,
  { recordingIds, rigId, calibration = null }: Extract<SpecimenEdit, { kind: 'rig' }>,
): Promise<Outcome<null>> {
  let key: string | null = null
  if (rigId !== null) {
    const rig = await db.selectFrom('rig').selectAll().where('id', '=', rigId).executeTakeFirst()
    if (!rig) return notThere('rig', rigId)
    if (calibration !== null) {
      const parsed = parseRig(rig.document, `rig “${rig.name}”`)
      const chosen = parsed.ok ? calibrationCalled(parsed.value, calibration) : parsed
      if (!chosen.ok) return chosen
      key = calibrationKey(chosen.value)
    }
  }
  for (const id of recordingIds) {
    const placed = await db
      .selectFrom('placement')
      .innerJoin('specimen', 'specimen.id', 'placement.specimen_id')
      .select('specimen.study_id')
      .where('placement.recording_id', '=', id)
      .executeTakeFirst()
    if (placed?.study_id !== studyId) return notThere('recording', id)
    await db
      .updateTable('placement')
      .set({ rig_id: rigId, calibration: key })
      .where('recording_id', '=', id)
      .execute()
  }
  return fine(null)
}

/** Its specimens go to another variant, or to none: then they are not assigned, and count in no figure. */
async function removeVariant(
  db: Db,
  studyId: string,
  { variantId, specimensTo }: Extract<SpecimenEdit, { kind: 'remove-variant' }>,
): Promise<Outcome<null>> {
  const of = (id: string) =>
    db.selectFrom('variant').select('study_id').where('id', '=', id).executeTakeFirst()
  if ((await of(variantId))?.study_id !== studyId) return notThere('variant', variantId)
  if (specimensTo !== null && (specimensTo === variantId || (await of(specimensTo))?.study_id !== studyId))
    return notThere('variant', specimensTo)
  await db
    .updateTable('specimen')
    .set({ variant_id: specimensTo })
    .where('variant_id', '=', variantId)
    .execute()
  await db.deleteFrom('variant').where('id', '=', variantId).execute()
  return fine(null)
}
