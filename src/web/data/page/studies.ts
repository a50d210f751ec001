import type {
  NewSpecimen,
  NewStudy,
  NewVariant,
  Specimen,
  SpecimenPatch,
  Study,
  StudyPatch,
  Variant,
} from '../../../server/apiTypes.ts'
import type { Backend, Based, OpenStudy } from '../backend.ts'
import { Conflict, Trouble } from '../trouble.ts'
import { newId, notThere, nowIso, pageDb } from './db.ts'
import { entriesOf, newestReadings } from './recordings.ts'

const BLANK_STUDY: Omit<Study, 'id' | 'name' | 'createdAt' | 'updatedAt'> = {
  question: '',
  failureModes: [],
  quantity: 'force',
  elements: null,
  plannedPerVariant: null,
  plan: null,
  method: '',
  tell: null,
  equivalents: [],
  archived: false,
}

const BLANK_SPECIMEN: Omit<Specimen, 'id' | 'studyId' | 'name' | 'createdAt' | 'updatedAt'> = {
  variantId: null,
  status: 'planned',
  statusReason: '',
  failureMode: null,
  operator: '',
  batch: '',
  temperatureC: null,
  humidityPct: null,
  widthMm: null,
  thicknessMm: null,
  lengthMm: null,
  elements: null,
  note: '',
}

export const pageStudies: Backend['studies'] = {
  async list() {
    const studies = await (await pageDb()).getAll('studies')
    return studies.sort((a, b) => (a.createdAt < b.createdAt ? 1 : -1))
  },
  async open(id): Promise<OpenStudy> {
    const db = await pageDb()
    const study = await studyOf(id)
    const specimens = await db.getAllFromIndex('specimens', 'studyId', id)
    return {
      study,
      variants: (await db.getAllFromIndex('variants', 'studyId', id)).sort((a, b) => a.place - b.place),
      specimens: specimens.sort(inTime),
      readings: await newestReadings(specimens),
      recordings: await entriesOf({ studyId: id, withSetAside: true }),
    }
  },
  async create(fields: NewStudy) {
    const db = await pageDb()
    await refuseTaken('study', fields.name, await db.getAll('studies'))
    const at = nowIso()
    const study: Study = {
      ...BLANK_STUDY,
      ...given<Partial<Study>>(fields),
      name: fields.name,
      id: newId(),
      createdAt: at,
      updatedAt: at,
    }
    await db.put('studies', study)
    return study
  },
  async change(id, { basedOn, ...patch }: Based<StudyPatch>) {
    const db = await pageDb()
    const study = await studyOf(id)
    refuseStale(`study “${study.name}”`, study, basedOn)
    const others = (await db.getAll('studies')).filter(other => other.id !== id)
    if (patch.name !== undefined) await refuseTaken('study', patch.name, others)
    const changed: Study = {
      ...study,
      ...given<Partial<Study>>(patch),
      updatedAt: laterThan(study.updatedAt),
    }
    await db.put('studies', changed)
    return changed
  },
  async remove(id) {
    const db = await pageDb()
    const study = await studyOf(id)
    if ((await entriesOf({ studyId: id, withSetAside: true })).length > 0)
      throw hasRecordings(`study “${study.name}”`, 'Archive the study instead.')
    const change = db.transaction(['studies', 'variants', 'specimens'], 'readwrite')
    for (const name of ['variants', 'specimens'] as const)
      for (const key of await change.objectStore(name).index('studyId').getAllKeys(id))
        await change.objectStore(name).delete(key)
    await change.objectStore('studies').delete(id)
    await change.done
  },
}

export const pageVariants: Backend['variants'] = {
  async create(studyId, fields: NewVariant) {
    const db = await pageDb()
    const others = await db.getAllFromIndex('variants', 'studyId', studyId)
    await refuseTaken('variant', fields.name, others)
    const place = Math.max(-1, ...others.map(other => other.place)) + 1
    const variant: Variant = {
      control: false,
      elements: null,
      note: '',
      ...given<Partial<Variant>>(fields),
      name: fields.name,
      id: newId(),
      studyId,
      place,
    }
    await db.put('variants', variant)
    return variant
  },
  async change(id, patch) {
    const db = await pageDb()
    const variant = await db.get('variants', id)
    if (!variant) throw new Trouble([notThere('variant', id)])
    const all = (await db.getAllFromIndex('variants', 'studyId', variant.studyId)).sort(
      (a, b) => a.place - b.place,
    )
    const others = all.filter(other => other.id !== id)
    if (patch.name !== undefined) await refuseTaken('variant', patch.name, others)
    const changed = { ...variant, ...given<Partial<Variant>>(patch) }
    const ordered =
      patch.place === undefined
        ? all.map(v => (v.id === id ? changed : v))
        : others.toSpliced(patch.place, 0, changed)
    const change = db.transaction('variants', 'readwrite')
    for (const [place, one] of ordered.entries()) await change.store.put({ ...one, place })
    await change.done
    return { ...changed, place: ordered.indexOf(changed) }
  },
  async remove(id) {
    const db = await pageDb()
    const variant = await db.get('variants', id)
    if (!variant) throw new Trouble([notThere('variant', id)])
    const change = db.transaction(['variants', 'specimens'], 'readwrite')
    const specimens = change.objectStore('specimens')
    for (const specimen of await specimens.index('studyId').getAll(variant.studyId))
      if (specimen.variantId === id) await specimens.put({ ...specimen, variantId: null })
    await change.objectStore('variants').delete(id)
    await change.done
  },
}

export const pageSpecimens: Backend['specimens'] = {
  async create(studyId, fields: NewSpecimen) {
    const db = await pageDb()
    const study = await studyOf(studyId)
    await refuseTaken('specimen', fields.name, await db.getAllFromIndex('specimens', 'studyId', studyId))
    refuseMode(study, fields.failureMode)
    const at = nowIso()
    const specimen: Specimen = {
      ...BLANK_SPECIMEN,
      ...given<Partial<Specimen>>(fields),
      name: fields.name,
      id: newId(),
      studyId,
      createdAt: at,
      updatedAt: at,
    }
    await db.put('specimens', specimen)
    return specimen
  },
  async change(id, { basedOn, ...patch }: Based<SpecimenPatch>) {
    const db = await pageDb()
    const specimen = await specimenOf(id)
    refuseStale(`specimen “${specimen.name}”`, specimen, basedOn)
    refuseMode(await studyOf(specimen.studyId), patch.failureMode)
    const others = await db.getAllFromIndex('specimens', 'studyId', specimen.studyId)
    if (patch.name !== undefined)
      await refuseTaken(
        'specimen',
        patch.name,
        others.filter(other => other.id !== id),
      )
    const changed: Specimen = {
      ...specimen,
      ...given<Partial<Specimen>>(patch),
      updatedAt: laterThan(specimen.updatedAt),
    }
    await db.put('specimens', changed)
    return changed
  },
  async remove(id) {
    const specimen = await specimenOf(id)
    if ((await entriesOf({ specimenId: id, withSetAside: true })).length > 0)
      throw hasRecordings(
        `specimen “${specimen.name}”`,
        'Leave the specimen out with a reason, or place its recordings elsewhere first.',
      )
    await (await pageDb()).delete('specimens', id)
  },
}

export async function studyOf(id: string): Promise<Study> {
  const study = await (await pageDb()).get('studies', id)
  if (!study) throw new Trouble([notThere('study', id)])
  return study
}

export async function specimenOf(id: string): Promise<Specimen> {
  const specimen = await (await pageDb()).get('specimens', id)
  if (!specimen) throw new Trouble([notThere('specimen', id)])
  return specimen
}

const inTime = (a: Specimen, b: Specimen): number =>
  a.createdAt < b.createdAt || (a.createdAt === b.createdAt && a.name < b.name) ? -1 : 1

/** What was given of a patch; a field that is `undefined` was not. */
const given = <T extends object>(fields: object): T =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as T

/** Two edits within one millisecond still differ. */
const laterThan = (before: string): string => {
  const now = nowIso()
  return now > before ? now : new Date(Date.parse(before) + 1).toISOString()
}

async function refuseTaken(kind: string, name: string, others: readonly { readonly name: string }[]) {
  if (others.some(other => other.name === name))
    throw new Trouble([
      {
        where: `${kind} “${name}”`,
        what: `there is a ${kind} of this name already.`,
        cure: 'Choose another name.',
      },
    ])
}

function refuseStale(what: string, now: { readonly updatedAt: string }, basedOn: string | undefined): void {
  if (basedOn !== undefined && basedOn !== now.updatedAt) throw changedSince(what)
}

export const changedSince = (what: string): Conflict =>
  new Conflict([
    {
      where: what,
      what: 'it was changed elsewhere after it was opened here, so nothing was written.',
      cure: 'Look at what it is now, then change it again.',
    },
  ])

function refuseMode(study: Study, mode: string | null | undefined): void {
  if (mode != null && !study.failureModes.includes(mode))
    throw new Trouble([
      {
        where: 'failure mode',
        what: `“${mode}” is not on the list of the study “${study.name}”.`,
        cure: 'Take one of its list, or add it there.',
      },
    ])
}

const hasRecordings = (where: string, cure: string): Trouble =>
  new Trouble([{ where, what: 'it has recordings, which are never deleted.', cure }])
