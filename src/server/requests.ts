import { z } from 'zod'
import { adjustmentSchema } from '../core/reading/adjustmentDocument.ts'
import { FORCE_UNITS, type LogForceUnit } from '../core/units/force.ts'
import { TIME_UNITS, type TimeUnitWord } from '../logs/index.ts'

/** What may be sent to the server, checked against these before a route sees it. Their types: `apiTypes.ts`. */

const name = z.string().trim().min(1).max(200)
const text = z.string().max(10_000)
const figure = z.number().nullable()
const positive = z.number().positive().nullable()
const count = z.int().min(1).max(100_000).nullable()
const id = z.string().min(1).max(64)
const when = z.iso.datetime({ offset: true })

export const studyPatchSchema = z
  .strictObject({
    name,
    question: text,
    failureModes: z.array(name).max(100),
    quantity: z.enum(['force', 'force-per-width', 'force-per-area']),
    elements: count,
    plannedPerVariant: count,
    plan: z.unknown(),
    method: text,
    tell: z.unknown(),
    films: z.unknown(),
    equivalents: z
      .array(
        z.strictObject({
          name,
          plural: z.string().trim().max(200).default(''),
          massKg: z.number().positive(),
        }),
      )
      .max(50),
    archived: z.boolean(),
  })
  .partial()
/** `updatedAt` of what the caller saw: a change made since then is told, and nothing is written. */
const basedOn = { basedOn: z.string().max(64).optional() }
export const changedStudySchema = studyPatchSchema.extend(basedOn)
export const newStudySchema = studyPatchSchema.required({ name: true })

export const variantPatchSchema = z
  .strictObject({ name, control: z.boolean(), elements: count, note: text, place: z.int().min(0) })
  .partial()
/** `basedOn`: the fields as the caller saw them. */
export const changedVariantSchema = variantPatchSchema.extend({ basedOn: variantPatchSchema.optional() })
export const newVariantSchema = variantPatchSchema.omit({ place: true }).required({ name: true })

export const specimenPatchSchema = z
  .strictObject({
    name,
    variantId: id.nullable(),
    status: z.enum(['planned', 'pulled', 'left-out']),
    statusReason: text,
    failureMode: name.nullable(),
    operator: z.string().max(200),
    batch: z.string().max(200),
    temperatureC: figure,
    humidityPct: z.number().min(0).max(100).nullable(),
    widthMm: positive,
    thicknessMm: positive,
    lengthMm: positive,
    elements: count,
    note: text,
    pulledOn: z.iso.date().nullable(),
    pullOrder: count,
    typedPeak: z
      .strictObject({
        value: z.number().positive(),
        unit: z.enum(FORCE_UNITS),
        isAtLeast: z.boolean(),
        step: positive,
        doubt: positive,
        who: z.string().max(200),
      })
      .nullable(),
  })
  .partial()
export const changedSpecimenSchema = specimenPatchSchema.extend({
  ...basedOn,
  /** Who says so, for the list of changes. */
  who: z.string().trim().max(200).optional(),
})
export const newSpecimenSchema = specimenPatchSchema.required({ name: true })

const specimenId = id
const recordingIds = z.array(id).max(10_000)
/** One step of a change of specimens (`SpecimenEdit`). */
const editStepSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('change'), specimenId, fields: specimenPatchSchema, ...basedOn }),
  z.strictObject({ kind: z.literal('to-variant'), specimenId, variant: name.nullable() }),
  z.strictObject({
    kind: z.literal('add'),
    name,
    variant: name.nullable(),
    fields: specimenPatchSchema.omit({ name: true, variantId: true }).optional(),
  }),
  z.strictObject({ kind: z.enum(['remove', 'bring-back']), specimenId }),
  z.strictObject({ kind: z.literal('split'), specimenId, recordingIds, name }),
  z.strictObject({ kind: z.literal('merge'), specimenId, others: z.array(id).min(1).max(1000) }),
  z.strictObject({ kind: z.literal('order-logs'), specimenId, recordingIds }),
  z.strictObject({
    kind: z.literal('rig'),
    recordingIds,
    rigId: id.nullable(),
    calibration: z.string().max(2000).nullable().default(null),
  }),
  z.strictObject({ kind: z.literal('remove-variant'), variantId: id, specimensTo: id.nullable() }),
])
export const editSchema = z.strictObject({
  steps: z.array(editStepSchema).min(1).max(5000),
  who: z.string().trim().max(200).default(''),
  what: z.string().trim().min(1).max(500),
})

/** Numbers and switches in an address come as text. */
const numberText = z.coerce.number()
const switchText = z.enum(['true', 'false']).transform(word => word === 'true')

export const recordingQuerySchema = z
  .strictObject({
    studyId: id,
    specimenId: id,
    loose: switchText,
    search: z.string().max(200),
    withSetAside: switchText,
    limit: numberText.pipe(z.int().min(1).max(1000)),
    after: z.string().max(120),
  })
  .partial()

export const curveQuerySchema = z.strictObject({
  pixels: numberText.pipe(z.int().min(1).max(8000)).default(1200),
  fromS: numberText.optional(),
  toS: numberText.optional(),
})

const timeUnits = Object.keys(TIME_UNITS) as readonly TimeUnitWord[]
const logForceUnits: readonly LogForceUnit[] = [...FORCE_UNITS, 'counts']

/** How a log that is sent is to be understood, beside its name. */
export const logQuerySchema = z.strictObject({
  name: z.string().min(1).max(255),
  time: z.string().max(200).optional(),
  force: z.string().max(200).optional(),
  unit: z.enum(logForceUnits).optional(),
  timeUnit: z.enum(timeUnits).optional(),
  rateHz: numberText.pipe(z.number().positive()).optional(),
  tension: z.enum(['positive', 'negative']).optional(),
  decimal: z.enum(['comma', 'point']).optional(),
  encoding: z.string().max(40).optional(),
})
export const newRecordingQuerySchema = logQuerySchema.extend({
  specimenId: id.optional(),
  rigId: id.optional(),
  calibration: z.string().max(2000).optional(),
  startedAt: when.optional(),
})

export const placementSchema = z.strictObject({ specimenId: id.nullable(), place: z.int().min(0).optional() })
export const whySchema = z.strictObject({ why: z.string().trim().min(1).max(2000) })

export const adjustedSchema = z.strictObject({ adjustments: z.array(adjustmentSchema).max(500) })
export const keptReadingSchema = adjustedSchema.extend({
  /** The reading that the caller saw, `null` for none: a newer one is told, and nothing is written. */
  basedOn: id.nullable().optional(),
})

export const comparisonQuerySchema = z.strictObject({
  quantity: z.enum(['peakForce', 'laterPeak', 'work', 'partialBreaks', 'stiffness']).default('peakForce'),
  blocksBy: z.enum(['batch', 'operator', 'day']).optional(),
  worthShare: numberText.pipe(z.number().gt(0).max(10)).optional(),
  againstControl: z
    .enum(['true', 'false'])
    .transform(text => text === 'true')
    .optional(),
  mode: z.string().min(1).max(200).optional(),
  covariate: z.enum(['width', 'thickness', 'length', 'temperature', 'humidity']).optional(),
  seed: numberText.pipe(z.int().min(0)).default(1),
})

/** The documents are those of `schemas/rig.json`, `calibration.json` and `check.json`. */
export const rigPatchSchema = z.strictObject({ name, document: z.unknown() }).partial()
export const changedRigSchema = rigPatchSchema.extend(basedOn)
export const newRigSchema = z.strictObject({ name, document: z.unknown() })
export const newCalibrationSchema = z.strictObject({
  rigId: id.nullable(),
  madeAt: when,
  document: z.unknown(),
})
export const newCheckSchema = newCalibrationSchema.extend({ calibrationId: id.nullable() })
export const rigQuerySchema = z.strictObject({ rigId: id.optional() })

export const subjectQuerySchema = z.strictObject({
  kind: z.enum(['study', 'variant', 'specimen', 'recording', 'rig']),
  id,
})
export const newNoteSchema = z.strictObject({
  subject: subjectQuerySchema,
  text: z.string().trim().min(1).max(10_000),
  operator: z.string().max(200).default(''),
})
export const newPhotoQuerySchema = subjectQuerySchema.extend({
  name: z.string().min(1).max(255),
  caption: z.string().max(1000).default(''),
})

/** `basedOn`: the value as the caller saw it, `null` for none. */
export const settingSchema = z.strictObject({ value: z.json(), basedOn: z.json().optional() })

/** The line to a device. */
export const lineSchema = z.strictObject({
  source: z.discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('serial'),
      path: z.string().min(1).max(400),
      baud: z.int().min(50).max(4_000_000).optional(),
    }),
    z.strictObject({
      kind: z.literal('tcp'),
      host: z.string().min(1).max(253),
      port: z.int().min(1).max(65_535),
    }),
    z.strictObject({
      kind: z.literal('page'),
      name: z.string().trim().min(1).max(120),
      /** At which the page has it open. */
      baud: z.int().min(50).max(4_000_000),
    }),
    z.strictObject({
      kind: z.literal('pretend'),
      pull: z.string().min(1).max(60),
      seed: z.int().min(0).default(1),
      speed: z.number().positive().max(1000).default(1),
    }),
  ]),
  log: logQuerySchema.omit({ name: true }).prefault({}),
  capacityN: z.number().positive().nullable().default(null),
  rigId: id.nullable().default(null),
})

export const planSchema = z.strictObject({
  /** Where it is given, study, variant and specimen are those of the store. */
  specimenId: id.nullable().default(null),
  about: z
    .strictObject({
      study: name.nullable().default(null),
      variant: name.nullable().default(null),
      specimen: name.nullable().default(null),
      operator: name.nullable().default(null),
    })
    .prefault({}),
  startAtN: positive.default(null),
  keepBeforeS: z.number().min(0).max(60).default(5),
  pullsExpected: z.int().min(1).max(100).default(1),
  finishAfterRestS: positive.default(null),
  elements: count.default(null),
})
/** Taken although the force does not stand still. */
export const zeroSchema = z.strictObject({ anyway: z.boolean().default(false) }).nullish()
/** One turn more, or one tap too many taken back. */
export const turnSchema = z.strictObject({ by: z.union([z.literal(1), z.literal(-1)]).default(1) }).nullish()
/** A folder of the computer that the server runs on. */
export const folderSchema = z.strictObject({ folder: z.string().trim().min(1).max(4096) })
export const remarkSchema = z.strictObject({ text: z.string().trim().min(1).max(2000) })
