import { fine, type Outcome, type Problem } from '../core/problem.ts'
import { compareGroups } from '../core/statistics/compare/compareGroups.ts'
import { specimenOfReading } from '../core/statistics/compare/fromReading.ts'
import { perDimension } from '../core/statistics/compare/perDimension.ts'
import type { Quantity } from '../core/statistics/compare/quantity.ts'
import type { Specimen as Compared } from '../core/statistics/compare/specimen.ts'
import type { Comparison } from '../core/statistics/document.ts'
import type { RecordingEntry, Specimen, Store } from '../store/index.ts'

export interface StudyComparison {
  readonly quantity: Quantity
  readonly blocksBy?: 'batch' | 'operator' | 'day'
  readonly seed: number
}

const PER = { force: null, 'force-per-width': 'width', 'force-per-area': 'area' } as const

/**
 * The variants of a study against one another, from the newest reading of each specimen. Specimens left out are listed
 * with their reason and do not count; specimens without a reading are no part of it.
 */
export async function compareStudy(
  store: Store,
  studyId: string,
  { quantity, blocksBy, seed }: StudyComparison,
): Promise<Outcome<Comparison>> {
  const study = await store.studies.get(studyId)
  if (!study.ok) return study
  const variants = await store.variants.list(studyId)
  const specimens = new Map((await store.specimens.list(studyId)).map(specimen => [specimen.id, specimen]))
  const readings = await store.readings.latestOfStudy(studyId)
  const recorded = await firstRecordings(store, studyId)
  const inOrder = [...recorded.values()].sort((a, b) => (momentOf(a) < momentOf(b) ? -1 : 1))
  const problems: Problem[] = []
  const compared: { specimen: Compared; of: Specimen }[] = []
  let unit = 'N'
  for (const stored of readings) {
    const specimen = specimens.get(stored.specimenId ?? '')
    if (!specimen) continue
    const entry = recorded.get(specimen.id)
    const day = entry ? momentOf(entry).slice(0, 10) : null
    const order = entry ? inOrder.indexOf(entry) : null
    const { batch, operator } = specimen
    const block = blocksBy === undefined ? null : { batch, operator, day }[blocksBy] || null
    const outcome = specimenOfReading(stored.reading, quantity, {
      name: specimen.name,
      group: variants.find(variant => variant.id === specimen.variantId)?.name ?? 'no variant',
      mode: specimen.failureMode,
      block,
      day,
      order,
      dropped: specimen.status === 'left-out' ? specimen.statusReason || 'left out' : null,
    })
    if (!outcome.ok) {
      problems.push(...outcome.problems)
      continue
    }
    unit = outcome.value.unit
    compared.push({ specimen: outcome.value.specimen, of: specimen })
  }
  if (problems.length > 0) return { ok: false, problems }
  const per = quantity === 'peakForce' || quantity === 'laterPeak' ? PER[study.value.quantity] : null
  const divided = per
    ? perDimension(
        compared.map(one => one.specimen),
        specimen => compared.find(one => one.specimen === specimen)?.of ?? null,
        { per, doubtMm: null },
      )
    : fine({ specimens: compared.map(one => one.specimen), unit })
  if (!divided.ok) return divided
  return fine(
    compareGroups(inVariantOrder(divided.value.specimens, variants), {
      quantity,
      unit: divided.value.unit,
      blocksBy: blocksBy ?? null,
      control: variants.find(variant => variant.control)?.name ?? null,
      seed,
    }),
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

const momentOf = ({ startedAt, addedAt }: RecordingEntry): string => startedAt ?? addedAt

/** The first recording of each specimen of a study. */
async function firstRecordings(store: Store, studyId: string): Promise<Map<string, RecordingEntry>> {
  const first = new Map<string, RecordingEntry>()
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      studyId,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    for (const entry of page.items) {
      const id = entry.specimen?.id ?? ''
      const known = first.get(id)
      if (!known || entry.place < known.place) first.set(id, entry)
    }
    after = page.next
  } while (after !== null)
  return first
}
