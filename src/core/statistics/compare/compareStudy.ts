import { answerIn } from '../../answer/answerOf.ts'
import { nextWithPlan, type PlanLeft, planLeft } from '../../answer/studyNext.ts'
import { fine, type Outcome, type Problem, problemText } from '../../problem.ts'
import type { Reading } from '../../reading/document.ts'
import { type ForceUnit, N_PER } from '../../units/force.ts'
import type { Comparison, ComparisonWarning } from '../document.ts'
import { type RelativeScatter, relativeScatter } from './borrowed.ts'
import { compareGroups } from './compareGroups.ts'
import { specimenOfReading } from './fromReading.ts'
import { onOneScale } from './oneScale.ts'
import { perDimension } from './perDimension.ts'
import type { Quantity } from './quantity.ts'
import { readingWarnings } from './readingWarnings.ts'
import { looksOf } from './rememberedLooks.ts'
import { type Specimen as Compared, measuredOf, valuesOf } from './specimen.ts'

export interface StudyComparison {
  readonly quantity: Quantity
  readonly blocksBy?: 'batch' | 'operator' | 'day'
  /** What is worth a difference, as a share of the mean; `null` where nobody has said. */
  readonly worthShare?: number | null
  /** Compare all with the variant marked as control, and not with each other. */
  readonly againstControl?: boolean
  /** The same with this variant, whichever is marked. */
  readonly against?: string
  /** Scatters of like studies, which pairs of few specimens may borrow. */
  readonly like?: readonly RelativeScatter[] | null
  /** The one way of failing that is compared; others count as having held at least so much. */
  readonly mode?: string | null
  /** Compare as if all specimens had the same of it: of what is kept of each, or numbers of the person's own. */
  readonly covariate?: keyof typeof COVARIATES | OwnNumbers
  readonly seed: number
  /** Unit that its sentences tell forces in, newton beside; newton alone unless given. */
  readonly forceUnit?: ForceUnit
}

/** A study as it is kept, as far as a comparison asks. */
export interface ComparedStudy {
  readonly study: {
    readonly quantity: 'force' | 'force-per-width' | 'force-per-area'
    /** As it is kept, with the looks that it remembers; absent where several studies are compared. */
    readonly plan?: unknown
  }
  /** In their order. */
  readonly variants: readonly { readonly id: string; readonly name: string; readonly control: boolean }[]
  readonly specimens: readonly {
    readonly id: string
    readonly name: string
    readonly variantId: string | null
    readonly status: 'planned' | 'pulled' | 'left-out'
    readonly statusReason: string
    readonly failureMode: string | null
    readonly batch: string
    readonly operator: string
    readonly widthMm: number | null
    readonly thicknessMm: number | null
    readonly lengthMm: number | null
    readonly temperatureC?: number | null
    readonly humidityPct?: number | null
    /** Day and place in the order of pulling, as a person told them: they count for more than `pulledAt`. */
    readonly pulledOn?: string | null
    readonly pullOrder?: number | null
  }[]
  /** The newest of each specimen. */
  readonly readings: readonly { readonly specimenId: string | null; readonly reading: Reading }[]
  /** When each specimen was pulled, ISO 8601, as far as it is known; the order of the pulls comes from it. */
  readonly pulledAt: ReadonlyMap<string, string>
  /** Specimens, by id, that were pulled on the pretend rig. They count only where all were. */
  readonly practice?: ReadonlySet<string>
  /** Specimens whose recordings are there and cannot be read, with the reason. */
  readonly unread?: readonly { readonly name: string; readonly problem: Problem }[]
  /** What of the plan is left, where `specimens` are not all that the study has. */
  readonly left?: PlanLeft
}

/** What is kept of each specimen that may be taken out of the scatter, by the word for it. */
export const COVARIATES = {
  width: 'widthMm',
  thickness: 'thicknessMm',
  length: 'lengthMm',
  temperature: 'temperatureC',
  humidity: 'humidityPct',
} as const

/** A number that somebody measured on each specimen (the mass of its glue), under a name of their own. */
export interface OwnNumbers {
  readonly name: string
  /** By the id of the specimen; those that are not in it have none. */
  readonly of: ReadonlyMap<string, number>
}

const besideOf = (
  specimen: ComparedStudy['specimens'][number],
  covariate: NonNullable<StudyComparison['covariate']>,
): number | null =>
  typeof covariate === 'string'
    ? (specimen[COVARIATES[covariate]] ?? null)
    : (covariate.of.get(specimen.id) ?? null)

const PER = { force: null, 'force-per-width': 'width', 'force-per-area': 'area' } as const

/**
 * The variants of a study against one another, from the newest reading of each specimen. Specimens left out are listed
 * with their reason and do not count; specimens without a reading are no part of it, and those of no variant are named in a
 * warning: they are no group of their own.
 */
export function compareStudy(study: ComparedStudy, options: StudyComparison): Outcome<Comparison> {
  const {
    quantity,
    blocksBy,
    seed,
    forceUnit = 'N',
    worthShare = null,
    covariate = null,
    mode = null,
    like = null,
  } = options
  const { specimens, unit, per, control, looks, warnings, dimensionsOf } = studySpecimens(study, options)
  const divided = per
    ? perDimension(specimens, dimensionsOf, { per, doubtMm: null })
    : fine({ specimens, unit })
  if (!divided.ok) return divided
  const inUnit = divided.value.unit
  const comparison = compareGroups(divided.value.specimens, {
    quantity,
    unit: inUnit,
    shown: inUnit === 'N' && forceUnit !== 'N' ? { unit: forceUnit, per: N_PER[forceUnit] } : null,
    blocksBy: blocksBy ?? null,
    control,
    against: options.against ?? (options.againstControl === true ? control : null),
    worthShare,
    mode,
    covariate: typeof covariate === 'string' || covariate === null ? covariate : covariate.name,
    like,
    looks,
    seed,
    warnings,
  })
  return fine(withNextStep(comparison, study))
}

/** A comparison whose next step is that of the study: what is planned comes first. */
export function withNextStep(comparison: Comparison, study: ComparedStudy): Comparison {
  const answer = answerIn(comparison)
  return { ...comparison, answer: { ...answer, next: nextWithPlan(answer.next, leftOf(study)) } }
}

const leftOf = ({ study, variants, specimens, readings, left }: ComparedStudy): PlanLeft =>
  left ??
  planLeft({
    plan: study.plan,
    variants,
    specimens,
    pulled: new Set(readings.flatMap(({ specimenId }) => specimenId ?? [])),
  })

/** The specimens of a study, from the newest reading of each in the order of the variants, and what it says of comparing them. */
export function studySpecimens(
  study: ComparedStudy,
  options: Pick<StudyComparison, 'quantity' | 'blocksBy' | 'covariate'>,
) {
  const { variants } = study
  const { compared, warnings } = sortedOut(study, options)
  const { specimens, unit } = onOneScale(compared)
  const isForce = options.quantity === 'peakForce' || options.quantity === 'laterPeak'
  return {
    specimens: inVariantOrder(specimens, variants),
    unit,
    /** What its forces are divided by. */
    per: isForce && unit === 'N' ? PER[study.study.quantity] : null,
    control: variants.find(variant => variant.control)?.name ?? null,
    looks: looksOf(study.study.plan),
    warnings,
    dimensionsOf: (of: Compared) => compared[specimens.indexOf(of)]?.of ?? null,
  }
}

/** How the variants of a like study scatter, each as a share of its mean: what another may borrow of it. */
export function scattersOf(study: ComparedStudy, quantity: Quantity): RelativeScatter[] {
  const { specimens } = onOneScale(sortedOut(study, { quantity }).compared)
  return study.variants.flatMap(
    ({ name }) => relativeScatter(valuesOf(measuredOf(specimens.filter(s => s.group === name)))) ?? [],
  )
}

/** What is said of a study's specimens before they are compared. */
export const warningsOf = (
  study: ComparedStudy,
  options: Pick<StudyComparison, 'quantity' | 'blocksBy'>,
): readonly ComparisonWarning[] => sortedOut(study, options).warnings

/** The specimens that can be compared, and what is to be said of all. */
function sortedOut(
  { variants, specimens, readings, pulledAt, practice = new Set(), unread = [] }: ComparedStudy,
  { quantity, blocksBy, covariate }: Pick<StudyComparison, 'quantity' | 'blocksBy' | 'covariate'>,
) {
  const notAssigned: string[] = []
  const read = readings.filter(({ specimenId }) => specimens.some(({ id }) => id === specimenId))
  const practised = read.filter(({ specimenId }) => practice.has(specimenId ?? '')).length
  const isAllPractice = practised > 0 && practised === read.length
  const byId = new Map(specimens.map(specimen => [specimen.id, specimen]))
  const inOrder = orderOfPulls(specimens, pulledAt)
  const compared: { specimen: Compared; unit: string; of: ComparedStudy['specimens'][number] }[] = []
  for (const { specimenId, reading } of readings) {
    const specimen = byId.get(specimenId ?? '')
    if (!specimen) continue
    const variant = variants.find(one => one.id === specimen.variantId)
    if (variant === undefined) {
      notAssigned.push(specimen.name)
      continue
    }
    const moment = pulledAt.get(specimen.id) ?? null
    const day = specimen.pulledOn ?? moment?.slice(0, 10) ?? null
    const { batch, operator } = specimen
    const one = specimenOfReading(reading, quantity, {
      name: specimen.name,
      group: variant.name,
      mode: specimen.failureMode,
      block: blocksBy === undefined ? null : { batch, operator, day }[blocksBy] || null,
      day,
      order: inOrder.has(specimen.id) ? inOrder.get(specimen.id)! : null,
      dropped:
        specimen.status === 'left-out'
          ? specimen.statusReason || 'left out'
          : practice.has(specimen.id) && !isAllPractice
            ? 'practice on the pretend rig'
            : null,
    })
    const beside = covariate === undefined ? {} : { covariate: besideOf(specimen, covariate) }
    compared.push({ ...one, specimen: { ...one.specimen, ...beside }, of: specimen })
  }
  const warnings = [
    ...notAssignedWarning(notAssigned),
    ...unread.map(({ name, problem }) => ({
      code: 'not-read',
      text: `${name} was recorded and cannot be read, and so is in no figure. ${problemText(problem)}`,
    })),
    ...onOneScale(compared).warnings,
    ...(isAllPractice ? [PRACTICE] : []),
    ...readingWarnings(read.map(({ reading }) => reading)),
  ]
  return { compared, warnings }
}

/** From 0, of those whose place is known. Where a person told the order of any, the moments say nothing of the others. */
function orderOfPulls(
  specimens: ComparedStudy['specimens'],
  pulledAt: ReadonlyMap<string, string>,
): ReadonlyMap<string, number> {
  const told = specimens.flatMap(({ id, pullOrder }): [string, number][] =>
    pullOrder == null ? [] : [[id, pullOrder]],
  )
  const inOrder =
    told.length > 0
      ? told.sort(([, a], [, b]) => a - b)
      : [...pulledAt].sort(([, a], [, b]) => (a < b ? -1 : 1))
  return new Map(inOrder.map(([id], at) => [id, at]))
}

const PRACTICE: ComparisonWarning = {
  code: 'practice',
  text: 'All pulls are those of the pretend rig: practice, invented by the program. They say nothing of any real specimen.',
}

/** Specimens that nobody put under a variant stay out of every figure until somebody does. */
function notAssignedWarning(names: readonly string[]): ComparisonWarning[] {
  if (names.length === 0) return []
  const listed = `${names.slice(0, 12).join(', ')}${names.length > 12 ? ' …' : ''}`
  const text = `Not assigned to a variant, and so in no figure: ${listed}. Assign ${names.length === 1 ? 'it' : 'them'} to a variant to have ${names.length === 1 ? 'it' : 'them'} count.`
  return [{ code: 'not-assigned', text }]
}

/** Groups appear in the order of their first specimen: that of the study's variants. */
const inVariantOrder = (compared: readonly Compared[], variants: readonly { name: string }[]): Compared[] => {
  const placeOf = (group: string): number => {
    const place = variants.findIndex(variant => variant.name === group)
    return place < 0 ? variants.length : place
  }
  return [...compared].sort((a, b) => placeOf(a.group) - placeOf(b.group))
}
