import { calibrationCalled, calibrationKey } from '../../../core/calibration/chosen.ts'
import { parseRig } from '../../../core/calibration/rig.ts'
import type { Rig, Specimen, SpecimenEdit, Variant } from '../../../server/apiTypes.ts'
import { got, Trouble } from '../trouble.ts'
import { found, type KeptSpecimen, laterThan, newId, notThere, nowIso, type Writing } from './db.ts'
import { given, inPlaces, nameFrom, nextPlace, refuseMisfits, refuseStale, refuseTaken } from './rules.ts'
import { blankSpecimen } from './specimenShape.ts'

/** What a change of specimens may touch. */
export const EDITED = ['studies', 'variants', 'specimens', 'recordings', 'rigs', 'edits'] as const
export type Editing = Writing<(typeof EDITED)[number]>

/** One step of an edit, within the transaction that keeps it. @throws Trouble as the server's store refuses it */
export async function applyEdit(change: Editing, studyId: string, step: SpecimenEdit): Promise<void> {
  const { specimens, recordings, own, put } = within(change, studyId)
  switch (step.kind) {
    case 'change': {
      const specimen = await own(step.specimenId)
      refuseStale(`specimen “${specimen.name}”`, specimen, step.basedOn)
      return put(specimen, step.fields)
    }
    case 'to-variant':
      return put(await own(step.specimenId), { variantId: await variantIdOf(change, studyId, step.variant) })
    case 'add': {
      const variantId = await variantIdOf(change, studyId, step.variant)
      await add(change, studyId, { status: 'pulled', ...step.fields, name: step.name, variantId })
      return
    }
    case 'remove':
      await specimens.put(removed(await own(step.specimenId)))
      return
    case 'bring-back':
      await specimens.put({ ...(await own(step.specimenId)), removedAt: null })
      return
    case 'split': {
      const whole = await own(step.specimenId)
      const all = await logsOf(change, whole.id)
      const moved = all.filter(id => step.recordingIds.includes(id))
      if (moved.length === 0 || moved.length === all.length || moved.length < step.recordingIds.length)
        throw new Trouble([
          {
            where: `specimen “${whole.name}”`,
            what:
              all.length === 1
                ? 'it has one recording, and one alone cannot be split.'
                : 'some of its recordings, but not all, must go to the new specimen.',
            cure:
              all.length === 1
                ? 'Rename it, or move it to another variant.'
                : `Name one or more of its ${all.length} recordings.`,
          },
        ])
      const { variantId, operator, batch, elements, status } = whole
      const part = await add(change, studyId, {
        name: step.name,
        variantId,
        operator,
        batch,
        elements,
        status,
      })
      await putLogs(change, part.id, moved)
      await putLogs(
        change,
        whole.id,
        all.filter(id => !moved.includes(id)),
      )
      return
    }
    case 'merge': {
      const into = await own(step.specimenId)
      const all = await logsOf(change, into.id)
      for (const id of step.others) {
        if (id === into.id) continue
        const other = await own(id)
        all.push(...(await logsOf(change, id)))
        await specimens.put(removed(other))
      }
      return putLogs(change, into.id, all)
    }
    case 'order-logs': {
      const specimen = await own(step.specimenId)
      const all = await logsOf(change, specimen.id)
      if ([...all].sort().join() !== [...step.recordingIds].sort().join())
        throw new Trouble([
          {
            where: `specimen “${specimen.name}”`,
            what: 'the new order must name each of its recordings once.',
            cure: 'List them all.',
          },
        ])
      return putLogs(change, specimen.id, step.recordingIds)
    }
    case 'rig': {
      const { rigId } = step
      const rig = rigId === null ? null : found(await change.objectStore('rigs').get(rigId), 'rig', rigId)
      const calibration = rig && step.calibration ? keyOf(rig, step.calibration) : null
      for (const id of step.recordingIds) {
        const entry = found(await recordings.get(id), 'recording', id)
        if (entry.specimenId === null) throw new Trouble([notThere('recording', id)])
        await own(entry.specimenId)
        await recordings.put({ ...entry, rigId, calibration })
      }
      return
    }
    case 'remove-variant': {
      const { variantId, specimensTo } = step
      const variants = change.objectStore('variants')
      for (const id of [variantId, ...(specimensTo === null ? [] : [specimensTo])])
        if ((await variants.get(id))?.studyId !== studyId) throw new Trouble([notThere('variant', id)])
      for (const specimen of await specimens.index('studyId').getAll(studyId))
        if (specimen.variantId === variantId) await specimens.put({ ...specimen, variantId: specimensTo })
      await variants.delete(variantId)
    }
  }
}

/** One that was removed already keeps its time: nothing came to change. */
const removed = (specimen: KeptSpecimen): KeptSpecimen => ({
  ...specimen,
  removedAt: specimen.removedAt ?? nowIso(),
})

function keyOf({ name, document }: Rig, asked: string): string {
  const rig = got(parseRig(JSON.stringify(document), `rig “${name}”`))
  return calibrationKey(got(calibrationCalled(rig, asked)))
}

function within(change: Editing, studyId: string) {
  const specimens = change.objectStore('specimens')
  return {
    specimens,
    recordings: change.objectStore('recordings'),
    async own(id: string): Promise<KeptSpecimen> {
      const specimen = found(await specimens.get(id), 'specimen', id)
      if (specimen.studyId !== studyId) throw new Trouble([notThere('specimen', id)])
      return specimen
    },
    async put(specimen: KeptSpecimen, fields: Partial<Specimen>): Promise<void> {
      const study = found(await change.objectStore('studies').get(studyId), 'study', studyId)
      refuseMisfits(study, await change.objectStore('variants').index('studyId').getAll(studyId), fields)
      const name = fields.name === undefined ? specimen.name : nameFrom('specimen', fields.name)
      if (name !== specimen.name)
        refuseTaken('specimen', name, await specimens.index('studyId').getAll(studyId), specimen.id)
      const changed = { ...specimen, ...given<Partial<Specimen>>(fields), name }
      await specimens.put({ ...changed, updatedAt: laterThan(specimen.updatedAt) })
    },
  }
}

async function add(
  change: Editing,
  studyId: string,
  fields: Partial<Specimen> & Pick<Specimen, 'name'>,
): Promise<KeptSpecimen> {
  const study = found(await change.objectStore('studies').get(studyId), 'study', studyId)
  refuseMisfits(study, await change.objectStore('variants').index('studyId').getAll(studyId), fields)
  const specimens = change.objectStore('specimens')
  const others = await specimens.index('studyId').getAll(studyId)
  const name = nameFrom('specimen', fields.name)
  refuseTaken('specimen', name, others)
  // Those that are made at once stay in the order in which they were made.
  const at = laterThan(
    others
      .map(({ createdAt }) => createdAt)
      .sort()
      .at(-1),
  )
  const specimen: KeptSpecimen = blankSpecimen(studyId, name, fields, at)
  await specimens.add(specimen)
  return specimen
}

/** The variant of a name, made where there is none. */
async function variantIdOf(change: Editing, studyId: string, name: string | null): Promise<string | null> {
  if (name === null) return null
  const variants = change.objectStore('variants')
  const all = await variants.index('studyId').getAll(studyId)
  const known = all.find(one => one.name === name)
  if (known) return known.id
  const made: Variant = {
    id: newId(),
    studyId,
    name: nameFrom('variant', name),
    place: nextPlace(all),
    control: false,
    elements: null,
    note: '',
  }
  await variants.add(made)
  return made.id
}

async function logsOf(change: Editing, specimenId: string): Promise<string[]> {
  const all = await change.objectStore('recordings').getAll()
  return inPlaces(all.filter(one => one.specimenId === specimenId)).map(({ id }) => id)
}

async function putLogs(change: Editing, specimenId: string, ids: readonly string[]): Promise<void> {
  const recordings = change.objectStore('recordings')
  for (const [place, id] of ids.entries()) {
    const entry = found(await recordings.get(id), 'recording', id)
    await recordings.put({ ...entry, specimenId, place })
  }
}
