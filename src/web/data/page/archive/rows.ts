import { upgradedReading } from '../../../../core/reading/upgradedReading.ts'
import { BLANK_SPECIMEN, BLANK_STUDY } from '../../../../core/study.ts'
import { toldCapacityN } from '../../../../logs/index.ts'
import type {
  DailyCheck,
  Photo,
  Rig,
  Specimen,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  Variant,
} from '../../../../server/apiTypes.ts'
import type { KeptEntry, KeptSpecimen } from '../db.ts'

/**
 * What the page keeps, as rows of an archive of a store, and back: the columns are those of the store’s tables at the
 * version `ARCHIVE_SCHEMA`. Documents are JSON text, yes and no are 1 and 0.
 */

/** The version of the store’s tables that the page writes and reads. A store brings an older one up to its own. */
export const ARCHIVE_SCHEMA = 8
/** The oldest version that it takes in: rows of those since say nothing else by other columns, they only lack some. */
export const OLDEST_SCHEMA = 7

export type Cell = string | number | null | Uint8Array
export type Row = Readonly<Record<string, Cell>>

const json = (value: unknown): string => JSON.stringify(value)
const jsonOrNull = (value: unknown): string | null => (value == null ? null : JSON.stringify(value))
const text = (row: Row, column: string): string => String(row[column])
const textOrNull = (row: Row, column: string): string | null =>
  row[column] == null ? null : text(row, column)
const number = (row: Row, column: string): number => Number(row[column])
const numberOrNull = (row: Row, column: string): number | null =>
  row[column] == null ? null : number(row, column)
const parsed = <T>(row: Row, column: string): T => JSON.parse(text(row, column)) as T
const parsedOrNull = <T>(row: Row, column: string): T | null =>
  row[column] == null ? null : parsed<T>(row, column)

export const studyRow = (given: Study): Row => {
  const study = { ...BLANK_STUDY, ...given }
  return {
    id: study.id,
    name: study.name,
    question: study.question,
    failure_modes: json(study.failureModes),
    quantity: study.quantity,
    elements: study.elements,
    planned_per_variant: study.plannedPerVariant,
    plan: jsonOrNull(study.plan),
    method: study.method,
    tell: jsonOrNull(study.tell),
    films: jsonOrNull(study.films),
    equivalents: json(study.equivalents),
    archived: study.archived ? 1 : 0,
    created_at: study.createdAt,
    updated_at: study.updatedAt,
  }
}
export const studyOf = (row: Row): Study => ({
  id: text(row, 'id'),
  name: text(row, 'name'),
  question: text(row, 'question'),
  failureModes: parsed(row, 'failure_modes'),
  quantity: text(row, 'quantity') as Study['quantity'],
  elements: numberOrNull(row, 'elements'),
  plannedPerVariant: numberOrNull(row, 'planned_per_variant'),
  plan: parsedOrNull(row, 'plan'),
  method: text(row, 'method'),
  tell: parsedOrNull(row, 'tell'),
  films: parsedOrNull(row, 'films'),
  // Rows of earlier versions name no plural.
  equivalents: parsed<Study['equivalents']>(row, 'equivalents').map(e => ({ ...e, plural: e.plural ?? '' })),
  archived: row.archived === 1,
  createdAt: text(row, 'created_at'),
  updatedAt: text(row, 'updated_at'),
})

export const variantRow = ({ id, studyId, name, place, control, elements, note }: Variant): Row => ({
  id,
  study_id: studyId,
  name,
  place,
  is_control: control ? 1 : 0,
  elements,
  note,
})
export const variantOf = (row: Row): Variant => ({
  id: text(row, 'id'),
  studyId: text(row, 'study_id'),
  name: text(row, 'name'),
  place: number(row, 'place'),
  control: row.is_control === 1,
  elements: numberOrNull(row, 'elements'),
  note: text(row, 'note'),
})

export const specimenRow = (given: KeptSpecimen): Row => {
  const specimen: KeptSpecimen = { ...BLANK_SPECIMEN, ...given }
  return {
    id: specimen.id,
    study_id: specimen.studyId,
    variant_id: specimen.variantId,
    name: specimen.name,
    status: specimen.status,
    status_reason: specimen.statusReason,
    failure_mode: specimen.failureMode,
    operator: specimen.operator,
    batch: specimen.batch,
    temperature_c: specimen.temperatureC,
    humidity_pct: specimen.humidityPct,
    width_mm: specimen.widthMm,
    thickness_mm: specimen.thicknessMm,
    length_mm: specimen.lengthMm,
    elements: specimen.elements,
    note: specimen.note,
    pulled_on: specimen.pulledOn,
    pull_order: specimen.pullOrder,
    typed_peak: jsonOrNull(specimen.typedPeak),
    created_at: specimen.createdAt,
    updated_at: specimen.updatedAt,
    removed_at: specimen.removedAt ?? null,
  }
}
export const specimenOf = (row: Row): KeptSpecimen => ({
  id: text(row, 'id'),
  studyId: text(row, 'study_id'),
  variantId: textOrNull(row, 'variant_id'),
  name: text(row, 'name'),
  status: text(row, 'status') as Specimen['status'],
  statusReason: text(row, 'status_reason'),
  failureMode: textOrNull(row, 'failure_mode'),
  operator: text(row, 'operator'),
  batch: text(row, 'batch'),
  temperatureC: numberOrNull(row, 'temperature_c'),
  humidityPct: numberOrNull(row, 'humidity_pct'),
  widthMm: numberOrNull(row, 'width_mm'),
  thicknessMm: numberOrNull(row, 'thickness_mm'),
  lengthMm: numberOrNull(row, 'length_mm'),
  elements: numberOrNull(row, 'elements'),
  note: text(row, 'note'),
  pulledOn: textOrNull(row, 'pulled_on'),
  pullOrder: numberOrNull(row, 'pull_order'),
  typedPeak: parsedOrNull(row, 'typed_peak'),
  createdAt: text(row, 'created_at'),
  updatedAt: text(row, 'updated_at'),
  ...(row.removed_at == null ? {} : { removedAt: text(row, 'removed_at') }),
})

export const rigRow = ({ id, name, document, createdAt, updatedAt }: Rig): Row => ({
  id,
  name,
  document: json(document),
  created_at: createdAt,
  updated_at: updatedAt,
})
export const rigOf = (row: Row): Rig => ({
  id: text(row, 'id'),
  name: text(row, 'name'),
  document: parsed(row, 'document'),
  createdAt: text(row, 'created_at'),
  updatedAt: text(row, 'updated_at'),
})

export const calibrationRow = ({ id, rigId, madeAt, document }: StoredCalibration): Row => ({
  id,
  rig_id: rigId,
  made_at: madeAt,
  document: json(document),
  added_at: madeAt,
})
export const calibrationOf = (row: Row): StoredCalibration => ({
  id: text(row, 'id'),
  rigId: textOrNull(row, 'rig_id'),
  madeAt: text(row, 'made_at'),
  document: parsed(row, 'document'),
})

export const checkRow = ({ calibrationId, ...check }: DailyCheck): Row => ({
  ...calibrationRow(check),
  calibration_id: calibrationId,
})
export const checkOf = (row: Row): DailyCheck => ({
  ...calibrationOf(row),
  calibrationId: textOrNull(row, 'calibration_id'),
})

/** Of a recording: all but its samples, its log and where it belongs. */
export const recordingRow = (
  entry: KeptEntry,
  {
    samplesSha256,
    logOptions,
    details,
  }: { readonly samplesSha256: string; readonly logOptions: object; readonly details: object },
): Row => ({
  id: entry.id,
  name: entry.name,
  sha256: entry.sha256,
  samples_sha256: samplesSha256,
  samples: entry.samples,
  log_bytes: entry.logBytes,
  started_at: entry.startedAt,
  added_at: entry.addedAt,
  start_s: entry.startS,
  end_s: entry.endS,
  force_unit: entry.forceUnit ?? '',
  time_from: entry.timeFrom,
  source: entry.source,
  device: entry.device,
  state: entry.state,
  rig_id: entry.rigId,
  calibration_id: entry.calibrationId,
  log_options: json(logOptions),
  details: json(details),
})
export const placementRow = (entry: KeptEntry): Row => ({
  recording_id: entry.id,
  specimen_id: entry.specimenId,
  place: entry.place,
  rig_id: entry.rigId,
  calibration: entry.calibration ?? null,
  set_aside_at: entry.setAside?.at ?? null,
  set_aside_why: entry.setAside?.why ?? '',
  // The store that takes it in makes it.
  search_text: '',
})
export const entryOf = (row: Row, placement: Row): KeptEntry => ({
  id: text(row, 'id'),
  name: text(row, 'name'),
  sha256: text(row, 'sha256'),
  samples: number(row, 'samples'),
  logBytes: number(row, 'log_bytes'),
  startedAt: textOrNull(row, 'started_at'),
  addedAt: text(row, 'added_at'),
  startS: numberOrNull(row, 'start_s'),
  endS: numberOrNull(row, 'end_s'),
  forceUnit: text(row, 'force_unit'),
  timeFrom: text(row, 'time_from'),
  source: text(row, 'source') as KeptEntry['source'],
  device: text(row, 'device'),
  state: text(row, 'state') as KeptEntry['state'],
  rigId: textOrNull(placement, 'rig_id'),
  calibrationId: textOrNull(row, 'calibration_id'),
  calibration: textOrNull(placement, 'calibration'),
  capacityN: toldCapacityN([parsed<object>(row, 'log_options')]),
  specimenId: textOrNull(placement, 'specimen_id'),
  place: number(placement, 'place'),
  setAside:
    placement.set_aside_at == null
      ? null
      : { at: text(placement, 'set_aside_at'), why: text(placement, 'set_aside_why') },
})

export const readingRow = ({
  id,
  specimenId,
  madeAt,
  engine,
  adjustments,
  options,
  reading,
}: StoredReading): Row => {
  const { peakForce } = reading.results
  return {
    id,
    specimen_id: specimenId,
    made_at: madeAt,
    engine,
    adjustments: json(adjustments),
    options: json(options),
    document: json(reading),
    peak_status: peakForce.status,
    peak_n: peakForce.valueN,
    uncertainty_n: peakForce.uncertaintyN,
  }
}
export const readingOf = (row: Row, recordingIds: readonly string[]): StoredReading => ({
  id: text(row, 'id'),
  specimenId: textOrNull(row, 'specimen_id'),
  recordingIds,
  madeAt: text(row, 'made_at'),
  engine: text(row, 'engine'),
  adjustments: parsed(row, 'adjustments'),
  options: parsed(row, 'options'),
  reading: upgradedReading(parsed(row, 'document')) as StoredReading['reading'],
})

export const noteRow = ({ id, subject, text: said, operator, madeAt }: StoredNote): Row => ({
  id,
  subject_kind: subject.kind,
  subject_id: subject.id,
  text: said,
  operator,
  made_at: madeAt,
})
export const noteOf = (row: Row): StoredNote => ({
  id: text(row, 'id'),
  subject: { kind: text(row, 'subject_kind') as StoredNote['subject']['kind'], id: text(row, 'subject_id') },
  text: text(row, 'text'),
  operator: text(row, 'operator'),
  madeAt: text(row, 'made_at'),
})

export const photoRow = (photo: Photo, content: Uint8Array): Row => ({
  id: photo.id,
  subject_kind: photo.subject.kind,
  subject_id: photo.subject.id,
  name: photo.name,
  caption: photo.caption,
  mime: photo.mime,
  sha256: photo.sha256,
  bytes: content,
  added_at: photo.addedAt,
})
export const photoOf = (row: Row, bytes: number): Photo => ({
  id: text(row, 'id'),
  subject: { kind: text(row, 'subject_kind') as Photo['subject']['kind'], id: text(row, 'subject_id') },
  name: text(row, 'name'),
  caption: text(row, 'caption'),
  mime: text(row, 'mime') as Photo['mime'],
  sha256: text(row, 'sha256'),
  bytes,
  addedAt: text(row, 'added_at'),
})
