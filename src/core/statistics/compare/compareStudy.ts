import { fine, type Outcome } from '../../problem.ts'
import type { Reading } from '../../reading/document.ts'
import { type ForceUnit, N_PER } from '../../units/force.ts'
import type { Comparison, ComparisonWarning } from '../document.ts'
import { compareGroups } from './compareGroups.ts'
import { specimenOfReading } from './fromReading.ts'
import { onOneScale } from './oneScale.ts'
import { perDimension } from './perDimension.ts'
import type { Quantity } from './quantity.ts'
import { readingWarnings } from './readingWarnings.ts'
import type { Specimen as Compared } from './specimen.ts'

export interface StudyComparison {
  readonly quantity: Quantity
  readonly blocksBy?: 'batch' | 'operator' | 'day'
  readonly seed: number
  /** Unit that its sentences tell forces in, newton beside; newton alone unless given. */
  readonly forceUnit?: ForceUnit
}

/** A study as it is kept, as far as a comparison asks. */
export interface ComparedStudy {
  readonly study: { readonly quantity: 'force' | 'force-per-width' | 'force-per-area' }
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
  }[]
  /** The newest of each specimen. */
  readonly readings: readonly { readonly specimenId: string | null; readonly reading: Reading }[]
  /** When each specimen was pulled, ISO 8601; the order of the pulls comes from it. */
  readonly pulledAt: ReadonlyMap<string, string>
}

const PER = { force: null, 'force-per-width': 'width', 'force-per-area': 'area' } as const

/**
 * The variants of a study against one another, from the newest reading of each specimen. Specimens left out are listed
 * with their reason and do not count; specimens without a reading are no part of it.
 */
export function compareStudy(
  { study, variants, specimens, readings, pulledAt }: ComparedStudy,
  { quantity, blocksBy, seed, forceUnit = 'N' }: StudyComparison,
): Outcome<Comparison> {
  const byId = new Map(specimens.map(specimen => [specimen.id, specimen]))
  const inOrder = [...pulledAt].sort(([, a], [, b]) => (a < b ? -1 : 1)).map(([id]) => id)
  const compared: { specimen: Compared; unit: string; of: ComparedStudy['specimens'][number] }[] = []
  for (const { specimenId, reading } of readings) {
    const specimen = byId.get(specimenId ?? '')
    if (!specimen) continue
    const moment = pulledAt.get(specimen.id) ?? null
    const day = moment?.slice(0, 10) ?? null
    const { batch, operator } = specimen
    const one = specimenOfReading(reading, quantity, {
      name: specimen.name,
      group: variants.find(variant => variant.id === specimen.variantId)?.name ?? 'no variant',
      mode: specimen.failureMode,
      block: blocksBy === undefined ? null : { batch, operator, day }[blocksBy] || null,
      day,
      order: moment === null ? null : inOrder.indexOf(specimen.id),
      dropped: specimen.status === 'left-out' ? specimen.statusReason || 'left out' : null,
    })
    compared.push({ ...one, of: specimen })
  }
  const { specimens: plain, unit, warnings } = onOneScale(compared)
  const isForce = quantity === 'peakForce' || quantity === 'laterPeak'
  const per = isForce && unit === 'N' ? PER[study.quantity] : null
  const dimensionsOf = (of: Compared) => compared[plain.indexOf(of)]?.of ?? null
  const divided = per
    ? perDimension(plain, dimensionsOf, { per, doubtMm: null })
    : fine({ specimens: plain, unit })
  if (!divided.ok) return divided
  const inUnit = divided.value.unit
  return fine(
    compareGroups(inVariantOrder(divided.value.specimens, variants), {
      quantity,
      unit: inUnit,
      shown: inUnit === 'N' && forceUnit !== 'N' ? { unit: forceUnit, per: N_PER[forceUnit] } : null,
      blocksBy: blocksBy ?? null,
      control: variants.find(variant => variant.control)?.name ?? null,
      seed,
      warnings: [...warnings, ...warningsOf({ specimens, readings })],
    }),
  )
}

/** What the readings of a study's specimens already warned of. */
export function warningsOf({
  specimens,
  readings,
}: Pick<ComparedStudy, 'readings'> & {
  readonly specimens: readonly { readonly id: string }[]
}): ComparisonWarning[] {
  const ids = new Set(specimens.map(({ id }) => id))
  return readingWarnings(
    readings.flatMap(({ specimenId, reading }) => (ids.has(specimenId ?? '') ? [reading] : [])),
  )
}

/** Groups appear in the order of their first specimen: that of the study's variants. */
const inVariantOrder = (compared: readonly Compared[], variants: readonly { name: string }[]): Compared[] => {
  const placeOf = (group: string): number => {
    const place = variants.findIndex(variant => variant.name === group)
    return place < 0 ? variants.length : place
  }
  return [...compared].sort((a, b) => placeOf(a.group) - placeOf(b.group))
}
