import { z } from 'zod'
import type { CaptureState, TurnsTapped, ZeroTaken } from '../capture/index.ts'
import { healthSchema } from '../core/health/document.ts'
import type { Problem } from '../core/problem.ts'
import { readingSchema } from '../core/reading/document.ts'
import type { Assumption, Note } from '../core/recording.ts'
import { comparisonSchema } from '../core/statistics/document.ts'
import { FORCE_UNITS } from '../core/units/force.ts'
import type {
  DailyCheck,
  Edit,
  ImportedArchive,
  Photo,
  RecordingEntry,
  Rig,
  Specimen,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  Variant,
} from '../store/index.ts'
import type {
  EndedRecording,
  LineRigFacts,
  LiveReading,
  PortList,
  SpecimenCommand,
  Unsaved,
  Waiting,
} from './desk/liveTypes.ts'
import type { Edited } from './editSpecimens.ts'
import type { ImportedPackage } from './importPackage/importPackage.ts'
import type { LogPreview } from './routes/logs.ts'

/** Schemas of what is answered, by the names that routes say. Held against the types by the compiler. */

const figure = z.number().nullable()
const text = z.string()
const id = z.string()
const named = z.object({ id, name: text }).nullable()

const problem = z.object({
  where: text,
  what: text,
  cure: text,
  fields: z.array(text).readonly().exactOptional(),
  code: text.exactOptional(),
}) satisfies z.ZodType<Problem>

const captureState = z.object({
  phase: z.enum(['waiting', 'armed', 'recording', 'rest', 'finished', 'given-up']),
  sinceS: z.number(),
  pulls: z.int(),
  pulling: z.boolean(),
  startedBy: z.enum(['hand', 'force']).nullable(),
  endedBy: z.enum(['hand', 'rest']).nullable(),
  reason: text.nullable(),
  overSinceS: figure,
  freeSinceS: figure,
}) satisfies z.ZodType<CaptureState>

const zeroTaken = z.object({
  zeroN: z.number(),
  beforeN: figure,
  spreadN: z.number(),
}) satisfies z.ZodType<ZeroTaken>

const turnsTapped = z.object({ turns: z.int(), travelMm: figure }) satisfies z.ZodType<TurnsTapped>

const lineRig = z.object({
  id: id.nullable(),
  name: text,
  capacityN: figure,
  strokeMm: figure,
  mmPerTurn: figure,
  mmPerSecond: figure,
}) satisfies z.ZodType<LineRigFacts>

const lineState = z.object({
  open: z.object({ kind: z.enum(['serial', 'tcp', 'stream', 'page', 'pretend']), name: text }).nullable(),
  rig: lineRig.nullable(),
  state: captureState.nullable(),
  plan: z.looseObject({ specimenId: id.nullable(), elements: figure }).nullable(),
  recordingId: id.nullable(),
})

const liveReading = z.object({
  pulls: z.int(),
  upToS: z.number(),
  toLiveS: z.number(),
  reading: readingSchema.nullable(),
  problems: z.array(problem),
}) satisfies z.ZodType<LiveReading>

const endedRecording = z.object({
  recordingId: id,
  specimenId: id.nullable(),
  how: z.enum(['finished', 'given-up', 'recovered']),
  reading: readingSchema.nullable(),
  keptIn: z.enum(['store', 'journal', 'memory']),
  problems: z.array(problem),
}) satisfies z.ZodType<EndedRecording>

const unsaved = z.object({
  recordingId: id,
  startedAt: text,
  specimen: text.nullable(),
  samples: z.int(),
  keptIn: z.enum(['store', 'journal', 'memory']),
  heldBytes: z.int(),
  path: text,
  problem,
}) satisfies z.ZodType<Unsaved>
const waiting = z.object({ unsaved: z.array(unsaved), inUse: z.array(text) }) satisfies z.ZodType<Waiting>

const specimenCommand = z.object({
  recordingId: id.nullable(),
  specimenId: id.nullable(),
  state: captureState,
}) satisfies z.ZodType<SpecimenCommand>

const recordingEntry = z.object({
  id,
  name: text,
  sha256: text,
  samples: z.int(),
  logBytes: z.int(),
  startedAt: text.nullable(),
  addedAt: text,
  startS: figure,
  endS: figure,
  forceUnit: text.nullable(),
  timeFrom: text,
  source: z.enum(['log', 'live']),
  device: text,
  state: z.enum(['complete', 'recovered', 'given-up']),
  rigId: id.nullable(),
  capacityN: z.number().nullable(),
  calibrationId: id.nullable(),
  calibration: text.nullable(),
  study: named,
  specimen: named,
  place: z.int(),
  setAside: z.object({ at: text, why: text }).nullable(),
}) satisfies z.ZodType<RecordingEntry>

const study = z.object({
  id,
  name: text,
  question: text,
  failureModes: z.array(text),
  quantity: z.enum(['force', 'force-per-width', 'force-per-area']),
  elements: figure,
  plannedPerVariant: figure,
  plan: z.unknown(),
  method: text,
  tell: z.unknown(),
  films: z.unknown(),
  equivalents: z.array(z.object({ name: text, plural: text, massKg: z.number() })),
  archived: z.boolean(),
  createdAt: text,
  updatedAt: text,
}) satisfies z.ZodType<Study>

const variant = z.object({
  id,
  studyId: id,
  name: text,
  place: z.int(),
  control: z.boolean(),
  elements: figure,
  note: text,
}) satisfies z.ZodType<Variant>

const specimen = z.object({
  id,
  studyId: id,
  variantId: id.nullable(),
  name: text,
  status: z.enum(['planned', 'pulled', 'left-out']),
  statusReason: text,
  failureMode: text.nullable(),
  operator: text,
  batch: text,
  temperatureC: figure,
  humidityPct: figure,
  widthMm: figure,
  thicknessMm: figure,
  lengthMm: figure,
  elements: figure,
  note: text,
  pulledOn: text.nullable(),
  pullOrder: figure,
  typedPeak: z
    .object({
      value: z.number(),
      unit: z.enum(FORCE_UNITS),
      isAtLeast: z.boolean(),
      step: figure,
      doubt: figure,
      who: text,
    })
    .nullable(),
  createdAt: text,
  updatedAt: text,
}) satisfies z.ZodType<Specimen>

/** `adjustments` are those of `schemas/adjustments.json`. */
const storedReading = z.object({
  id,
  specimenId: id.nullable(),
  recordingIds: z.array(id),
  madeAt: text,
  engine: text,
  adjustments: z.array(z.unknown()),
  options: z.looseObject({}),
  reading: readingSchema,
}) satisfies z.ZodType<StoredReading>

const assumption = z.object({
  code: z.enum([
    'unit-assumed',
    'unit-not-told',
    'rate-assumed',
    'time-unit-assumed',
    'time-doubtful',
    'decimal-assumed',
    'tension-assumed',
    'time-spread',
    'rows-skipped',
    'lines-not-read',
    'end-mark',
    'stated-maximum-differs',
    'layout-changes',
    'column-assumed',
    'notes-left-out',
    'contradiction',
  ] satisfies Assumption['code'][]),
  text,
  lines: z.object({ count: z.int(), first: z.array(z.object({ line: z.int(), text })) }).exactOptional(),
}) satisfies z.ZodType<Assumption>
const logNote = z.object({ line: z.int(), sample: z.int(), text }) satisfies z.ZodType<Note>

const logPreview = z.object({
  name: text,
  sha256: text,
  understood: text,
  samples: z.int(),
  startS: figure,
  endS: figure,
  forceUnit: z.enum([...FORCE_UNITS, 'counts']).nullable(),
  timeFrom: z.enum(['column', 'clock', 'rate']),
  channels: z.array(z.object({ name: text, kind: text, unit: text })),
  assumptions: z.array(assumption),
  notes: z.array(logNote),
  curve: z.object({ timeS: z.array(z.number()), forceN: z.array(figure) }),
  known: recordingEntry.nullable(),
}) satisfies z.ZodType<LogPreview>

const importedPackage = z.object({
  study: z.object({ id, name: text, isNew: z.boolean() }),
  specimens: z.int(),
  rigs: z.array(text),
  recordings: z.int(),
  known: z.int(),
  readings: z.int(),
  told: z.array(text),
}) satisfies z.ZodType<ImportedPackage>

const importedArchive = z.object({
  added: z.int(),
  known: z.int(),
  renamed: z.array(text),
}) satisfies z.ZodType<ImportedArchive>

const subject = z.object({ kind: z.enum(['study', 'variant', 'specimen', 'recording', 'rig']), id })
const edit = z.object({
  id,
  studyId: id,
  madeAt: text,
  who: text,
  what: text,
  takenBackAt: text.nullable(),
}) satisfies z.ZodType<Edit>
const note = z.object({ id, subject, text, operator: text, madeAt: text }) satisfies z.ZodType<StoredNote>
const photo = z.object({
  id,
  subject,
  name: text,
  caption: text,
  mime: z.enum(['image/jpeg', 'image/png', 'image/webp']),
  sha256: text,
  bytes: z.int(),
  addedAt: text,
}) satisfies z.ZodType<Photo>

/** `document` is that of `schemas/rig.json`, `calibration.json` and `check.json`. */
const rig = z.object({
  id,
  name: text,
  document: z.unknown(),
  createdAt: text,
  updatedAt: text,
}) satisfies z.ZodType<Rig>
const calibration = z.object({
  id,
  rigId: id.nullable(),
  madeAt: text,
  document: z.unknown(),
}) satisfies z.ZodType<StoredCalibration>
const check = z.object({
  id,
  rigId: id.nullable(),
  calibrationId: id.nullable(),
  madeAt: text,
  document: z.unknown(),
}) satisfies z.ZodType<DailyCheck>

const port = z.object({
  path: text,
  manufacturer: text.nullable(),
  serialNumber: text.nullable(),
  vendorId: text.nullable(),
  productId: text.nullable(),
})
const portList = z.object({ ports: z.array(port), problems: z.array(problem) }) satisfies z.ZodType<PortList>
const curve = z.object({ timeS: z.array(z.number()), forceN: z.array(figure) })

const edited = z.object({
  edit: edit.nullable(),
  reread: z.array(
    z.object({ specimen: text, before: readingSchema.nullable(), after: readingSchema.nullable() }),
  ),
  problems: z.array(problem),
}) satisfies z.ZodType<Edited>

export const ANSWER_SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  CaptureState: captureState,
  Comparison: comparisonSchema,
  Curve: curve,
  DailyCheck: check,
  EndedRecording: endedRecording,
  Health: healthSchema,
  ImportedArchive: importedArchive,
  ImportedPackage: importedPackage,
  LineState: lineState,
  LiveReading: liveReading,
  LogPreview: logPreview,
  Photo: photo,
  PortList: portList,
  Reading: readingSchema,
  RecordingEntry: recordingEntry,
  Rig: rig,
  Specimen: specimen,
  Settings: z.record(text, z.unknown()),
  SpecimenCommand: specimenCommand,
  StoredCalibration: calibration,
  StoredNote: note,
  Edit: edit,
  Edited: edited,
  StoredReading: storedReading,
  Study: study,
  TurnsTapped: turnsTapped,
  Unsaved: unsaved,
  Variant: variant,
  Waiting: waiting,
  ZeroTaken: zeroTaken,
}

/**
 * The schema of what a route says that it answers: a name, `X[]`, `Page<X>`, `X | null`, `{ a: X, b: Y }`. `null` where it
 * names a file, or a type that has no schema here.
 */
export function answerSchema(answers: string): object | null {
  const words = answers.trim()
  if (words === 'null' || words === 'string' || words === 'boolean') return { type: words }
  if (words.startsWith('{') && words.endsWith('}')) return objectSchema(words.slice(1, -1))
  if (words.endsWith('| null')) {
    const some = answerSchema(words.slice(0, -6))
    return some && { anyOf: [some, { type: 'null' }] }
  }
  if (words.endsWith('[]')) {
    const items = answerSchema(words.slice(0, -2))
    return items && { type: 'array', items }
  }
  const page = /^Page<(.+)>$/.exec(words)?.[1]
  if (page !== undefined) return objectSchema(`items: ${page}[], next: string | null`)
  return words in ANSWER_SCHEMAS ? { $ref: `#/components/schemas/${words}` } : null
}

function objectSchema(fields: string): object | null {
  const pairs = fields.split(',').map(field => {
    const [key = '', of = ''] = field.split(':')
    return [key.trim(), answerSchema(of)] as const
  })
  if (pairs.some(([, schema]) => schema === null)) return null
  return { type: 'object', properties: Object.fromEntries(pairs), required: pairs.map(([key]) => key) }
}
