import { type PlanLeft, planLeft } from '../../core/answer/studyNext.ts'
import { checksIn } from '../../core/calibration/checkDocument.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { type Problem, problemText } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import { type ComparedStudy, compareStudy, warningsOf } from '../../core/statistics/compare/compareStudy.ts'
import type { Quantity } from '../../core/statistics/compare/quantity.ts'
import { planSchema } from '../../core/statistics/plan/document.ts'
import { isPractice, type SpecimenFields } from '../../core/study.ts'
import { type ForceUnit, N_PER } from '../../core/units/force.ts'
import { dayOfPull, rigOfEntries } from '../../logs/index.ts'
import { filmsFrom } from './films.ts'
import { unitToTell } from './forceUnit.ts'
import { pageFrom } from './page.ts'
import { placesOfPulls } from './pullOrder.ts'
import type {
  ComparedWith,
  Equivalent,
  PublishedPhoto,
  PublishedSpecimen,
  PublishedStudy,
  Remark,
} from './study.ts'

export interface PublishOptions {
  readonly quantity?: Quantity
  readonly blocksBy?: 'batch' | 'operator' | 'day'
  /** What is worth a difference, as a share of the mean; `null` where nobody has said. */
  readonly worthShare?: number | null
  /** Unit of force to tell it in, instead of that of its logs. */
  readonly forceUnit?: ForceUnit
  readonly seed?: number
  /** ISO 8601. */
  readonly madeAt?: string
}

/** What is kept of a study and is not about one specimen. */
export interface KeptHead {
  readonly name: string
  readonly question: string
  readonly method: string
  readonly quantity: 'force' | 'force-per-width' | 'force-per-area'
  readonly plan: unknown
  readonly equivalents: readonly Equivalent[]
  /** The page as it was kept, whatever it holds. */
  readonly tell: unknown
  /** The films as they were kept, whatever that holds. */
  readonly films: unknown
}

/** A recording of a specimen as it is kept. */
export interface KeptRecording {
  readonly name: string
  readonly sha256: string
  readonly logBytes: number
  readonly source: 'log' | 'live'
  readonly startedAt: string | null
  readonly addedAt: string
  readonly rigId: string | null
  /** Key of the calibration of the rig that a person chose. */
  readonly calibration: string | null
  readonly setAside: { readonly why: string } | null
  /** What sent it; left out or empty for a file. */
  readonly device?: string
  /** How the log was told to be read; `{}` where nobody will read it again. */
  readonly options: object
  readonly bytes: () => Promise<Uint8Array>
}

export interface KeptSpecimen extends Omit<SpecimenFields, 'typedPeak'> {
  readonly id: string
  /** The newest. */
  readonly reading: Reading | null
  /** In the order in which they are joined, those set aside among them. */
  readonly recordings: readonly KeptRecording[]
  /** Those that count as one; `null` where there are none, or where they cannot be read. */
  readonly recording: Recording | null
  /** Why recordings that are there cannot be read; left out where they can. */
  readonly unread?: Problem
  readonly rig: Rig | null
  readonly remarks: readonly Remark[]
  readonly photos: readonly PublishedPhoto[]
}

/** A study as it is kept, from the store or from the page's own storage, gathered. */
export interface KeptStudy {
  readonly head: KeptHead
  /** In their order. */
  readonly variants: readonly {
    readonly id: string
    readonly name: string
    readonly control: boolean
    readonly note: string
  }[]
  readonly specimens: readonly KeptSpecimen[]
  /** The rig of most of the recordings, with the documents of its checks. */
  readonly rig: Rig | null
  readonly checks: readonly unknown[]
  readonly remarks: readonly Remark[]
  readonly photos: readonly PublishedPhoto[]
}

/** A study that was gathered, as it is told to others. */
export function composedStudy(whole: KeptStudy, options: PublishOptions = {}): PublishedStudy {
  const kept = withoutPractice(whole)
  const { head, variants } = kept
  const told = kept.specimens.map(one =>
    publishedSpecimen(one, variants.find(variant => variant.id === one.variantId)?.name ?? null),
  )
  const quantity = options.quantity ?? 'peakForce'
  const forceUnit = options.forceUnit ?? unitToTell(told)
  const plan = planSchema.safeParse(head.plan)
  return {
    name: head.name,
    question: head.question,
    method: head.method,
    quantity,
    forceUnit,
    variants: variants.map(({ name, control, note }) => ({ name, control, note })),
    specimens: inOrder(
      told,
      variants.map(variant => variant.name),
    ),
    rig: kept.rig,
    checks: checksIn(kept.checks),
    plan: plan.success ? plan.data : null,
    ...comparisonOf(kept, leftOf(whole), { ...options, quantity, forceUnit }),
    remarks: kept.remarks,
    photos: kept.photos,
    equivalents: head.equivalents,
    page: pageFrom(head.tell),
    films: filmsFrom(head.films),
    madeAt: options.madeAt ?? new Date().toISOString(),
  }
}

/** Practice is told to nobody, unless all that was pulled is practice. */
function withoutPractice(kept: KeptStudy): KeptStudy {
  const pulled = kept.specimens.filter(
    ({ reading, recordings }) => reading !== null || recordings.some(one => one.setAside === null),
  )
  return pulled.every(isPractised)
    ? kept
    : { ...kept, specimens: kept.specimens.filter(one => !isPractised(one)) }
}

const isPractised = ({ recordings }: KeptSpecimen): boolean =>
  recordings.some(one => one.setAside === null && isPractice({ device: one.device ?? '' }))

/** The same study with another head: what a person changes on the page needs no recording read again. */
export const withHead = (
  study: PublishedStudy,
  { name, question, method, equivalents, tell, films }: KeptHead,
): PublishedStudy => ({
  ...study,
  name,
  question,
  method,
  equivalents,
  page: pageFrom(tell),
  films: filmsFrom(films),
})

/** The rig that most of these recordings were made on; `null` where none was told. */
export function mostUsedRig(recordings: readonly Pick<KeptRecording, 'rigId'>[]): string | null {
  const times = new Map<string, number>()
  for (const { rigId } of recordings) if (rigId !== null) times.set(rigId, (times.get(rigId) ?? 0) + 1)
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
}

function publishedSpecimen(kept: KeptSpecimen, variant: string | null): PublishedSpecimen {
  const { name, status, statusReason, failureMode, operator, batch, temperatureC, humidityPct } = kept
  const counting = kept.recordings.filter(one => one.setAside === null)
  const first = counting[0]
  return {
    name,
    variant,
    status: status === 'planned' && counting.length > 0 ? 'pulled' : status,
    statusReason,
    failureMode,
    operator,
    batch,
    temperatureC,
    humidityPct,
    widthMm: kept.widthMm,
    thicknessMm: kept.thicknessMm,
    lengthMm: kept.lengthMm,
    elements: kept.reading?.specimen?.elements ?? kept.elements,
    note: kept.note,
    remarks: kept.remarks,
    pullOrder: kept.pullOrder,
    pulledAt: pulledAtOf(kept.pulledOn, first?.startedAt ?? null),
    photos: kept.photos,
    logs: counting.map(({ name, sha256, logBytes, source, startedAt, options, bytes }) => ({
      name,
      sha256,
      byteLength: logBytes,
      source,
      startedAt,
      options,
      bytes,
    })),
    recording: kept.recording,
    reading: kept.reading,
    readWith: {
      rig: kept.rig,
      day: counting.length === 0 ? null : dayOfPull(kept.pulledOn, counting),
      calibration: rigOfEntries(counting).calibration,
    },
    setAside: kept.recordings.flatMap(one =>
      one.setAside === null ? [] : [{ name: one.name, why: one.setAside.why }],
    ),
  }
}

type Compared = Pick<PublishedStudy, 'comparison' | 'comparedWith' | 'notCompared'>

/** A pull on the pretend rig takes its place in the plan, though it is not told. */
const leftOf = ({ head, variants, specimens }: KeptStudy): PlanLeft =>
  planLeft({
    plan: head.plan,
    variants,
    specimens,
    pulled: new Set(specimens.flatMap(({ id, reading }) => (reading === null ? [] : [id]))),
  })

function comparisonOf(
  kept: KeptStudy,
  left: PlanLeft,
  {
    quantity,
    forceUnit,
    blocksBy,
    worthShare = null,
    seed = 1,
  }: PublishOptions & { readonly quantity: Quantity; readonly forceUnit: ForceUnit },
): Compared {
  const none = (notCompared: string): Compared => ({ comparison: null, comparedWith: null, notCompared })
  const study = { ...comparedStudy(kept), left }
  const compared = compareStudy(study, {
    quantity,
    seed,
    forceUnit,
    worthShare,
    ...(blocksBy === undefined ? {} : { blocksBy }),
  })
  if (!compared.ok) return none(compared.problems.map(problemText).join(' '))
  if (compared.value.specimens.length === 0)
    return none(
      kept.specimens.some(one => one.reading !== null && one.variantId === null)
        ? 'No specimen that was read is assigned to a variant yet.'
        : 'No specimen has been pulled and read yet.',
    )
  const comparedWith = {
    ...comparedIn(compared.value.unit, forceUnit, seed),
    worthShare,
    warnings: warningsOf(study, { quantity }),
  }
  return { comparison: compared.value, comparedWith, notCompared: null }
}

const comparedStudy = ({ head, variants, specimens }: KeptStudy): ComparedStudy => ({
  study: { quantity: head.quantity, plan: head.plan },
  variants,
  specimens,
  readings: specimens.flatMap(({ id, reading }) => (reading === null ? [] : [{ specimenId: id, reading }])),
  pulledAt: new Map(
    specimens.flatMap(({ id, recordings }): [string, string][] => {
      const first = recordings.find(one => one.setAside === null)
      return first?.startedAt == null ? [] : [[id, first.startedAt]]
    }),
  ),
  practice: new Set(specimens.filter(isPractised).map(({ id }) => id)),
  unread: specimens.flatMap(({ name, unread }) => (unread ? [{ name, problem: unread }] : [])),
})

/** The moment by the recording, where it is on the day that a person told; else that day. */
const pulledAtOf = (pulledOn: string | null, startedAt: string | null): string | null =>
  pulledOn === null || startedAt?.startsWith(pulledOn) ? startedAt : pulledOn

/** What `compareStudy` compares with, told by the unit that came of it. */
const comparedIn = (
  unit: string,
  forceUnit: ForceUnit,
  seed: number,
): Omit<ComparedWith, 'warnings' | 'worthShare'> => ({
  per: unit === 'N/mm' ? 'width' : unit === 'MPa' ? 'area' : null,
  dimensionDoubtMm: null,
  shown: unit === 'N' && forceUnit !== 'N' ? { unit: forceUnit, per: N_PER[forceUnit] } : null,
  seed,
})

/** In the order of pulling where it is known of every recorded one, else by variant and as listed; those not pulled last. */
function inOrder(specimens: readonly PublishedSpecimen[], variants: readonly string[]): PublishedSpecimen[] {
  const recorded = specimens.filter(one => one.logs.length > 0)
  const places = recorded.length > 0 ? placesOfPulls(recorded) : null
  const placeOf = (one: PublishedSpecimen): string | number => {
    if (places !== null) return places[recorded.indexOf(one)] ?? (typeof places[0] === 'number' ? 1e9 : '~')
    return one.variant === null ? variants.length : variants.indexOf(one.variant)
  }
  return [...specimens].sort((a, b) => {
    const [p, q] = [placeOf(a), placeOf(b)]
    return p < q ? -1 : p > q ? 1 : 0
  })
}
