import { typedPeakOf } from '../../core/reading/typedReading.ts'
import type { SpecimenFields } from '../../core/study.ts'
import type { PublishedSpecimen } from './study.ts'

/** What was told of a published specimen, for whoever takes it in: what nobody told stays `null` or empty. */
export const toldFields = (published: PublishedSpecimen): Omit<SpecimenFields, 'variantId'> => ({
  name: published.name,
  status: published.status,
  statusReason: published.statusReason,
  failureMode: published.failureMode,
  operator: published.operator,
  batch: published.batch,
  temperatureC: published.temperatureC,
  humidityPct: published.humidityPct,
  widthMm: published.widthMm,
  thicknessMm: published.thicknessMm,
  lengthMm: published.lengthMm,
  elements: published.elements,
  note: published.note,
  pulledOn: dayTold(published),
  pullOrder: published.pullOrder,
  typedPeak:
    published.reading !== null && published.logs.length === 0 ? typedPeakOf(published.reading) : null,
})

/** The day of the pull where its first log does not tell it. */
const dayTold = ({ pulledAt, logs }: PublishedSpecimen): string | null =>
  pulledAt === null || logs[0]?.startedAt === pulledAt ? null : pulledAt.slice(0, 10)
