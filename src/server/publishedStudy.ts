import { type Check, checkSchema } from '../core/calibration/checkDocument.ts'
import { parseRig, type Rig } from '../core/calibration/rig.ts'
import { fine, type Outcome, type Problem, problemText, wrong } from '../core/problem.ts'
import type { Reading } from '../core/reading/document.ts'
import { WORTH_SHARE } from '../core/statistics/compare/compareGroups.ts'
import type { Quantity } from '../core/statistics/compare/quantity.ts'
import { type Comparison, planSchema } from '../core/statistics/document.ts'
import { type ForceUnit, N_PER } from '../core/units/force.ts'
import { unitToTell } from '../publish/study/forceUnit.ts'
import type {
  ComparedWith,
  PublishedPhoto,
  PublishedSpecimen,
  PublishedStudy,
  Remark,
} from '../publish/study/study.ts'
import type { RecordingEntry, Specimen, Store, Study, Subject } from '../store/index.ts'
import { compareStudy } from './compareStudy.ts'
import { recordingOf } from './specimenReading.ts'

export interface PublishOptions {
  readonly quantity?: Quantity
  readonly blocksBy?: 'batch' | 'operator' | 'day'
  /** Unit of force to tell it in, instead of that of its logs. */
  readonly forceUnit?: ForceUnit
  readonly seed?: number
  /** ISO 8601. */
  readonly madeAt?: string
}

/** A study by its id or its name. */
export async function studyOf(store: Store, nameOrId: string): Promise<Outcome<Study>> {
  const byId = await store.studies.get(nameOrId)
  if (byId.ok) return byId
  const byName = await store.studies.byName(nameOrId)
  if (byName) return fine(byName)
  const names = (await store.studies.list()).slice(0, 12).map(study => `“${study.name}”`)
  return wrong({
    where: `study “${nameOrId}”`,
    what: 'the store has no study of that name or id.',
    cure: names.length > 0 ? `Its studies are ${names.join(', ')}.` : 'It has no study yet: import one.',
  })
}

/**
 * A study of the store as it is told to others: the newest reading of each specimen, their recordings, the rig that
 * most of them were made on, checks, notes and photos. The bytes of logs and photos are read when they are asked for,
 * so the store must stay open until then. Problems: no such study, a damaged recording, a rig that cannot be read.
 */
export async function publishedStudy(
  store: Store,
  nameOrId: string,
  options: PublishOptions = {},
): Promise<Outcome<PublishedStudy>> {
  const found = await studyOf(store, nameOrId)
  if (!found.ok) return found
  const study = found.value
  const rigs = rigShelf(store)
  const readings = new Map(
    (await store.readings.latestOfStudy(study.id)).map(one => [one.specimenId ?? '', one.reading]),
  )
  const variants = await store.variants.list(study.id)
  const recordings = await recordingsOf(store, study.id)
  const specimens: PublishedSpecimen[] = []
  const problems: Problem[] = []
  for (const specimen of await store.specimens.list(study.id)) {
    const told = await publishedSpecimen(store, specimen, {
      variant: variants.find(variant => variant.id === specimen.variantId)?.name ?? null,
      reading: readings.get(specimen.id) ?? null,
      entries: recordings.get(specimen.id) ?? [],
      rigs,
    })
    if (told.ok) specimens.push(told.value)
    else problems.push(...told.problems)
  }
  if (problems.length > 0) return { ok: false, problems }
  const quantity = options.quantity ?? 'peakForce'
  const forceUnit = options.forceUnit ?? unitToTell(specimens)
  const compared = await comparisonOf(store, study.id, { ...options, quantity, forceUnit })
  const rigId = mostUsed([...recordings.values()].flat())
  const rig = rigId === null ? fine(null) : await rigs(rigId)
  if (!rig.ok) return rig
  const plan = planSchema.safeParse(study.plan)
  return fine({
    name: study.name,
    question: study.question,
    method: study.method,
    quantity,
    forceUnit,
    variants: variants.map(({ name, control, note }) => ({ name, control, note })),
    specimens: inOrder(
      specimens,
      variants.map(variant => variant.name),
    ),
    rig: rig.value,
    checks: rigId === null ? [] : await checksOf(store, rigId),
    plan: plan.success ? plan.data : null,
    ...compared,
    remarks: await remarksOn(store, { kind: 'study', id: study.id }),
    photos: await photosOf(store, { kind: 'study', id: study.id }),
    equivalents: study.equivalents,
    madeAt: options.madeAt ?? new Date().toISOString(),
  })
}

async function comparisonOf(
  store: Store,
  studyId: string,
  {
    quantity,
    forceUnit,
    blocksBy,
    seed = 1,
  }: PublishOptions & { readonly quantity: Quantity; readonly forceUnit: ForceUnit },
): Promise<Pick<PublishedStudy, 'comparison' | 'comparedWith' | 'notCompared'>> {
  const compared: Outcome<Comparison> = await compareStudy(store, studyId, {
    quantity,
    seed,
    forceUnit,
    ...(blocksBy === undefined ? {} : { blocksBy }),
  })
  const none = (notCompared: string) => ({ comparison: null, comparedWith: null, notCompared })
  if (!compared.ok) return none(compared.problems.map(problemText).join(' '))
  if (compared.value.specimens.length === 0) return none('No specimen has been pulled and read yet.')
  const comparedWith = comparedIn(compared.value.unit, forceUnit, seed)
  return { comparison: compared.value, comparedWith, notCompared: null }
}

/** What `compareStudy` compares with, told by the unit that came of it. */
const comparedIn = (unit: string, forceUnit: ForceUnit, seed: number): ComparedWith => ({
  per: unit === 'N/mm' ? 'width' : unit === 'MPa' ? 'area' : null,
  dimensionDoubtMm: null,
  shown: unit === 'N' && forceUnit !== 'N' ? { unit: forceUnit, per: N_PER[forceUnit] } : null,
  worthShare: WORTH_SHARE,
  seed,
  warnings: [],
})

interface SpecimenParts {
  readonly variant: string | null
  readonly reading: Reading | null
  readonly entries: readonly RecordingEntry[]
  readonly rigs: RigShelf
}

async function publishedSpecimen(
  store: Store,
  specimen: Specimen,
  { variant, reading, entries, rigs }: SpecimenParts,
): Promise<Outcome<PublishedSpecimen>> {
  const counting = entries.filter(entry => entry.setAside === null)
  const joined = counting.length === 0 ? null : await recordingOf(store, counting)
  if (joined !== null && !joined.ok && reading !== null) return joined
  const rigId = counting.find(entry => entry.rigId !== null)?.rigId ?? null
  const rig = rigId === null ? fine(null) : await rigs(rigId)
  if (!rig.ok) return rig
  const logs = await Promise.all(
    counting.map(async entry => {
      const options = await store.recordings.logOptions(entry.id)
      return {
        name: entry.name,
        sha256: entry.sha256,
        byteLength: entry.logBytes,
        source: entry.source,
        startedAt: entry.startedAt,
        options: options.ok ? options.value : {},
        bytes: () => wholeOf(store.recordings.log(entry.id)),
      }
    }),
  )
  const first = counting[0]
  const remarks = [
    ...(await remarksOn(store, { kind: 'specimen', id: specimen.id })),
    ...(await Promise.all(entries.map(({ id }) => remarksOn(store, { kind: 'recording', id })))).flat(),
  ]
  const { name, status, statusReason, failureMode, operator, batch, temperatureC, humidityPct } = specimen
  return fine({
    name,
    variant,
    status: status === 'planned' && counting.length > 0 ? 'pulled' : status,
    statusReason,
    failureMode,
    operator,
    batch,
    temperatureC,
    humidityPct,
    widthMm: specimen.widthMm,
    thicknessMm: specimen.thicknessMm,
    lengthMm: specimen.lengthMm,
    elements: reading?.specimen?.elements ?? specimen.elements,
    note: specimen.note,
    remarks,
    pulledAt: first?.startedAt ?? null,
    photos: await photosOf(store, { kind: 'specimen', id: specimen.id }),
    logs,
    // Counts that no calibration turns into a force yet are kept in the logs and are no curve.
    recording: joined?.ok ? joined.value.recording : null,
    reading,
    readWith: { rig: rig.value, day: (first?.startedAt ?? first?.addedAt)?.slice(0, 10) ?? null },
    setAside: entries.flatMap(entry =>
      entry.setAside === null ? [] : [{ name: entry.name, why: entry.setAside.why }],
    ),
  })
}

type RigShelf = (rigId: string) => Promise<Outcome<Rig>>

/** Rigs of the store, each read once. */
function rigShelf(store: Store): RigShelf {
  const known = new Map<string, Promise<Outcome<Rig>>>()
  const open = async (rigId: string): Promise<Outcome<Rig>> => {
    const stored = await store.rigs.get(rigId)
    return stored.ok ? parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`) : stored
  }
  return rigId => {
    const rig = known.get(rigId) ?? open(rigId)
    known.set(rigId, rig)
    return rig
  }
}

/** The recordings of each specimen of a study in the order in which they are joined, those set aside too. */
async function recordingsOf(store: Store, studyId: string): Promise<Map<string, RecordingEntry[]>> {
  const found = new Map<string, RecordingEntry[]>()
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      studyId,
      withSetAside: true,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    for (const entry of page.items) {
      const id = entry.specimen?.id ?? ''
      found.set(
        id,
        [...(found.get(id) ?? []), entry].sort((a, b) => a.place - b.place),
      )
    }
    after = page.next
  } while (after !== null)
  return found
}

function mostUsed(entries: readonly RecordingEntry[]): string | null {
  const times = new Map<string, number>()
  for (const { rigId } of entries) if (rigId !== null) times.set(rigId, (times.get(rigId) ?? 0) + 1)
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
}

/** By the moment of pulling where every recorded one has it, else by variant and as listed; those not pulled last. */
function inOrder(specimens: readonly PublishedSpecimen[], variants: readonly string[]): PublishedSpecimen[] {
  const recorded = specimens.filter(one => one.logs.length > 0)
  const byTime = recorded.length > 0 && recorded.every(one => one.pulledAt !== null)
  const placeOf = ({ variant, logs, pulledAt }: PublishedSpecimen): string | number => {
    if (byTime) return logs.length > 0 ? (pulledAt ?? '') : '~'
    return variant === null ? variants.length : variants.indexOf(variant)
  }
  return [...specimens].sort((a, b) => {
    const [p, q] = [placeOf(a), placeOf(b)]
    return p < q ? -1 : p > q ? 1 : 0
  })
}

async function checksOf(store: Store, rigId: string): Promise<Check[]> {
  const checks = (await store.checks.list(rigId)).flatMap(({ document }) => {
    const parsed = checkSchema.safeParse(document)
    return parsed.success ? [parsed.data] : []
  })
  return checks.sort((a, b) => (a.at < b.at ? -1 : 1))
}

const remarksOn = async (store: Store, subject: Subject): Promise<Remark[]> =>
  (await store.notes.list(subject)).map(({ text, operator, madeAt }) => ({ text, operator, at: madeAt }))

async function photosOf(store: Store, subject: Subject): Promise<PublishedPhoto[]> {
  const photos = await store.photos.list(subject)
  return photos.map(({ id, name, caption, mime }) => ({
    name,
    caption,
    mime,
    bytes: async () => {
      const loaded = await store.photos.load(id)
      if (!loaded.ok) throw new Error(loaded.problems.map(problemText).join(' '))
      return loaded.value.content
    },
  }))
}

async function wholeOf(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const all: Uint8Array[] = []
  for await (const piece of pieces) all.push(piece)
  return Uint8Array.from(Buffer.concat(all))
}
