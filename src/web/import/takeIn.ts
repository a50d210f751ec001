import type { Problem } from '../../core/problem.ts'
import type { Adjustment, NewSpecimen, RecordingEntry, Specimen, Study } from '../../server/apiTypes.ts'
import type { Backend, OpenStudy } from '../data/backend.ts'
import { problemsOf } from '../data/trouble.ts'
import { factsByName, type SpecimenGroup } from './assign.ts'
import { BroughtRigs } from './broughtRigs.ts'
import { startByFile } from './fileTime.ts'
import type { CheckedRig, LogItem, StudyChoice, ToldSpecimen } from './types.ts'

/** What is to be taken in: only logs that go into the store, in the order in which they are joined. */
export interface TakeInPlan {
  readonly study: StudyChoice
  /** The study as it is, where it is there already. */
  readonly open: OpenStudy | null
  readonly groups: readonly SpecimenGroup[]
  readonly rigId: string | null
  /** What packages say of their rigs' checks; taken in with those that a log was kept with. */
  readonly checked: readonly CheckedRig[]
  /** What packages tell of their specimens; one of which they have a log, or a typed peak, is made as it is told. */
  readonly told: readonly ToldSpecimen[]
  /** Why a recording is set aside when the person takes all of it back. */
  readonly undoWhy: string
}

export interface TakenIn {
  readonly study: Study
  /** Of logs. */
  readonly kept: number
  readonly failed: number
  /** Not tried, because the person said stop. */
  readonly left: number
  readonly specimenIds: readonly string[]
  /** Specimens whose logs are in but which cannot be read yet, and checks of a rig that could not be kept, and why. */
  readonly unread: readonly Problem[]
  undo(): Promise<void>
}

export interface TakeInWatch {
  /** A log is about to be taken in, is in, or could not be. */
  log(item: LogItem, kept: LogItem['kept'], problems: readonly Problem[]): void
  stopped(): boolean
}

/**
 * Takes logs into the store, specimen after specimen, and reads each specimen once all its logs are in. A log that fails
 * holds up no other. Whatever was kept stays kept: doing it again goes on with the rest, since a log is known by its
 * bytes. Rejects with a `Trouble` only where the study itself cannot be made.
 */
export async function takeIn(backend: Backend, plan: TakeInPlan, watch: TakeInWatch): Promise<TakenIn> {
  const back: (() => Promise<unknown>)[] = []
  const study = await studyOf(backend, plan, back)
  const places = new Places(backend, study, plan, back)
  const rigs = new BroughtRigs(backend)
  let kept = 0
  let failed = 0
  let left = 0
  const specimenIds: string[] = []
  const unread: Problem[] = []
  for (const group of plan.groups) {
    if (watch.stopped()) {
      left += group.logs.length
      continue
    }
    let specimen: Specimen
    try {
      specimen = await places.specimen(group)
    } catch (error) {
      for (const { item } of group.logs) watch.log(item, 'no', problemsOf(error))
      failed += group.logs.length
      continue
    }
    let inNow = 0
    for (const { item } of group.logs) {
      if (watch.stopped()) {
        left++
        continue
      }
      watch.log(item, 'now', [])
      try {
        back.push(await keepOn(backend, item, specimen.id, plan, rigs))
        watch.log(item, 'yes', [])
        inNow++
      } catch (error) {
        failed++
        watch.log(item, 'no', problemsOf(error))
      }
    }
    kept += inNow
    if (inNow === 0) continue
    specimenIds.push(specimen.id)
    try {
      const last = places.lastReading(specimen.id)
      const brought = group.logs.flatMap(({ item }) => item.adjustments)
      await readAnew(backend, specimen.id, last.id === null ? { ...last, adjustments: brought } : last)
    } catch (error) {
      unread.push(...problemsOf(error).map(problem => ({ ...problem, where: specimen.name })))
    }
  }
  for (const { fields, variant, hasLogs } of plan.told) {
    if (hasLogs || !fields.typedPeak || watch.stopped()) continue
    try {
      const specimen = await places.specimen({
        specimen: fields.name,
        variant: variant ?? '',
        row: null,
        logs: [],
      })
      specimenIds.push(specimen.id)
      await readAnew(backend, specimen.id, places.lastReading(specimen.id))
    } catch (error) {
      unread.push(...problemsOf(error).map(problem => ({ ...problem, where: fields.name })))
    }
  }
  for (const checked of plan.checked)
    try {
      await rigs.keepChecks(checked)
    } catch (error) {
      unread.push(...problemsOf(error).map(problem => ({ ...problem, where: checked.rig.name })))
    }
  return {
    study,
    kept,
    failed,
    left,
    specimenIds,
    unread,
    async undo() {
      for (const step of back.splice(0).reverse()) await step()
    },
  }
}

async function studyOf(backend: Backend, plan: TakeInPlan, back: (() => Promise<unknown>)[]): Promise<Study> {
  if (plan.open) return plan.open.study
  const { name, question, told } = plan.study
  const study = await backend.studies.create({ ...told, name: name.trim(), question: question.trim() })
  back.push(() => backend.studies.remove(study.id))
  return study
}

/** Keeps the log (or takes the recording that it already is) and puts it last on the specimen. Gives what takes it back. */
async function keepOn(
  backend: Backend,
  item: LogItem,
  specimenId: string,
  { rigId, undoWhy }: TakeInPlan,
  rigs: BroughtRigs,
): Promise<() => Promise<unknown>> {
  const { file, options, rig, calibration, known, byFileTime } = item
  const { recordings } = backend
  let before: RecordingEntry | null = known
  let { id } = known ?? { id: '' }
  if (known === null) {
    const bytes = new Uint8Array(await file.arrayBuffer())
    // Kept on no specimen first: put on one, it would be read at once, and once more for each log that follows.
    const { entry, isNew } = await recordings.keep({
      name: file.name,
      bytes,
      options,
      specimenId: null,
      rigId: rigId ?? (rig && (await rigs.idOf(rig))),
      // One that the package chose is one of its own rig.
      calibration: rigId === null ? calibration : null,
      startedAt: byFileTime ? startByFile(item) : null,
    })
    id = entry.id
    before = isNew ? null : entry
  }
  if (before?.setAside) await recordings.takeBack(id)
  await recordings.place(id, specimenId)
  return async () => {
    await recordings.place(id, before?.specimen?.id ?? null)
    if (before === null) await recordings.setAside(id, undoWhy)
    else if (before.setAside) await recordings.setAside(id, before.setAside.why)
  }
}

interface Last {
  /** `undefined`: whichever it is. */
  readonly id: string | null | undefined
  readonly adjustments: readonly Adjustment[]
}

const readAnew = (backend: Backend, specimenId: string, last: Last) =>
  backend.readings.keep(specimenId, last.adjustments, last.id)

/** What does not count in a package is said to the person, who decides here. */
const withoutStatus = ({ status: _, statusReason: _why, name: _name, ...told }: ToldSpecimen['fields']) =>
  told

/** Variants and specimens by their names, made where they are not there yet. */
class Places {
  private readonly variants = new Map<string, string>()
  private readonly specimens = new Map<string, Specimen>()
  private failureModes: readonly string[]

  constructor(
    private readonly backend: Backend,
    private readonly study: Study,
    private readonly plan: TakeInPlan,
    private readonly back: (() => Promise<unknown>)[],
  ) {
    for (const { name, id } of plan.open?.variants ?? []) this.variants.set(name, id)
    for (const specimen of plan.open?.specimens ?? []) this.specimens.set(specimen.name, specimen)
    this.failureModes = study.failureModes
  }

  lastReading(specimenId: string): Last {
    const last = this.plan.open?.readings.find(reading => reading.specimenId === specimenId)
    return { id: last?.id ?? null, adjustments: (last?.adjustments ?? []) as readonly Adjustment[] }
  }

  async specimen(group: SpecimenGroup): Promise<Specimen> {
    const variantId = await this.variant(group.variant)
    const { row } = group
    if (row?.mode) await this.failureMode(row.mode)
    const ofPackage = this.plan.told.find(({ fields }) => fields.name === group.specimen)?.fields
    if (ofPackage?.failureMode) await this.failureMode(ofPackage.failureMode)
    const told: Partial<NewSpecimen> = {
      ...factsByName(group),
      elements: row?.elements ?? null,
      widthMm: row?.widthMm ?? null,
      thicknessMm: row?.thicknessMm ?? null,
      lengthMm: row?.lengthMm ?? null,
      failureMode: row?.mode ?? null,
      note: row?.note ?? '',
      ...(ofPackage && withoutStatus(ofPackage)),
      variantId,
    }
    const known = this.specimens.get(group.specimen)
    if (known) return this.completed(known, told)
    const fields: NewSpecimen = { ...told, name: group.specimen, status: 'pulled' }
    const made = await this.backend.specimens.create(this.study.id, fields)
    this.back.push(() => this.backend.specimens.remove(made.id))
    this.specimens.set(made.name, made)
    return made
  }

  /** What is known of the specimen stays; only what nobody has said yet is taken from the table. */
  private async completed(known: Specimen, told: Partial<NewSpecimen>): Promise<Specimen> {
    const missing = Object.fromEntries(
      Object.entries(told).filter(
        ([key, value]) => value !== null && value !== '' && (known[key as keyof Specimen] ?? '') === '',
      ),
    ) as Partial<NewSpecimen>
    const patch = known.status === 'planned' ? { ...missing, status: 'pulled' as const } : missing
    const hadLogs = this.plan.open?.recordings.some(
      entry => entry.specimen?.id === known.id && entry.setAside === null,
    )
    // Run last of all when this is taken back: the reading is again one of the logs that were there before.
    if (hadLogs)
      this.back.push(() => readAnew(this.backend, known.id, { ...this.lastReading(known.id), id: undefined }))
    if (Object.keys(patch).length === 0) return known
    const before = Object.fromEntries(Object.keys(patch).map(key => [key, known[key as keyof Specimen]]))
    this.back.push(() => this.backend.specimens.change(known.id, before))
    const changed = await this.backend.specimens.change(known.id, patch)
    this.specimens.set(changed.name, changed)
    return changed
  }

  private async variant(name: string): Promise<string | null> {
    if (name === '') return null
    const known = this.variants.get(name)
    if (known !== undefined) return known
    const made = await this.backend.variants.create(this.study.id, { name })
    this.back.push(() => this.backend.variants.remove(made.id))
    this.variants.set(name, made.id)
    return made.id
  }

  private async failureMode(mode: string): Promise<void> {
    if (this.failureModes.includes(mode)) return
    this.failureModes = [...this.failureModes, mode]
    await this.backend.studies.change(this.study.id, { failureModes: [...this.failureModes] })
  }
}
