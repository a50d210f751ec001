import { z } from 'zod'
import { healthEntrySchema } from '../health/entry.ts'
import { parseDocument } from '../parseDocument.ts'
import { fine, type Outcome, wrong } from '../problem.ts'
import { calibrationSchema } from './document.ts'

/** The description of a rig, version 1 (`rig.json`): written by hand or by `tenterhook rig new`. SI units and mm. */

export const quickScaleSchema = z
  .strictObject({
    document: z.literal('tenterhook.quick-scale'),
    version: z.literal(1),
    date: z.iso.date(),
    basis: z.enum(['one-mass', 'typed']),
    readingUnit: z.string().describe('counts, or the unit of force that the rig shows'),
    newtonPerReading: z.number().refine(v => v !== 0, 'it may not be 0'),
    zeroReading: z.number(),
    appliedN: z
      .number()
      .positive()
      .nullable()
      .describe('The one known force; null where the doubt was typed'),
    doubtPct: z.number().positive().describe('Half-width of a 95 % interval, in per cent of the force'),
  })
  .describe('The scale by one known mass or a typed doubt: no claim about the line or a class')

const datedCalibrationSchema = calibrationSchema.extend({ date: z.iso.date() })

const rigCalibrationSchema = z.discriminatedUnion('document', [datedCalibrationSchema, quickScaleSchema])

export const rigSchema = z.strictObject({
  document: z.literal('tenterhook.rig').default('tenterhook.rig'),
  version: z.literal(1).default(1),
  name: z.string().default('rig'),
  cell: z
    .strictObject({
      capacityN: z.number().positive().optional(),
      ratedOutputMvPerV: z.number().positive().optional(),
      serial: z.string().optional(),
    })
    .default({}),
  converter: z
    .strictObject({
      name: z.string().optional(),
      rateHz: z.number().positive().optional(),
      averagedReadings: z
        .int()
        .positive()
        .optional()
        .describe('Readings that the converter averages into one'),
      excitationV: z.number().positive().optional(),
    })
    .default({}),
  sign: z
    .union([z.literal(1), z.literal(-1)])
    .optional()
    .describe('1 where a pull raises the reading, −1 where it lowers it; a calibration knows by itself'),
  drive: z
    .strictObject({
      mmPerTurn: z.number().positive().optional(),
      mmPerSecond: z.number().positive().optional(),
    })
    .default({}),
  strokeMm: z.number().positive().optional(),
  extensionAt: z
    .enum(['drive', 'specimen'])
    .default('drive')
    .describe(
      'Where extension is measured: at the drive it holds the rig’s own stretch, on the specimen not',
    ),
  stiffness: z
    .strictObject({
      nPerMm: z.number().positive(),
      standardNPerMm: z.number().nonnegative().nullable().default(null),
      date: z.iso.date().nullable().default(null),
    })
    .optional()
    .describe('Of grips, frame, drive and cell together'),
  gravity: z
    .union([
      z.strictObject({
        ms2: z.number().min(9.7).max(9.9),
        halfWidthMs2: z.number().nonnegative().default(0.0005),
      }),
      z.strictObject({
        latitudeDeg: z.number().min(-90).max(90),
        heightM: z.number().min(-500).max(9000).default(0),
      }),
    ])
    .optional(),
  limits: z
    .strictObject({
      calibrationDays: z
        .number()
        .positive()
        .default(365)
        .describe('A calibration older than this is warned of'),
      nearShare: z
        .number()
        .positive()
        .default(0.8)
        .describe('Share of the capacity from which a force is near it'),
      overShare: z.number().positive().default(1).describe('Share of the capacity that is an overload'),
      checkPct: z
        .number()
        .positive()
        .optional()
        .describe('Error that a daily check may show; the calibration’s own doubt where not given'),
    })
    .prefault({}),
  calibrations: z
    .array(rigCalibrationSchema)
    .default([])
    .describe('In any order; the latest that fits the recording’s date and unit is used'),
  health: z
    .array(healthEntrySchema)
    .optional()
    .describe('What the checks of its health found, in order of their times'),
  note: z.string().optional(),
})

export type Rig = z.infer<typeof rigSchema>
export type RigCalibration = Rig['calibrations'][number]
export type DatedCalibration = z.infer<typeof datedCalibrationSchema>
export type QuickScale = z.infer<typeof quickScaleSchema>

/** Reads the file of one calibration that can stand in a rig: it tells its day. */
export const parseCalibration = (text: string, where: string): Outcome<RigCalibration> =>
  parseDocument(text, rigCalibrationSchema, { where, schemaFile: 'calibration.json' })

/** Reads a rig file. `where` is its name, for the problems. */
export function parseRig(text: string, where: string): Outcome<Rig> {
  const rig = parseDocument(text, rigSchema, { where, schemaFile: 'rig.json' })
  if (!rig.ok) return rig
  const { nearShare, overShare } = rig.value.limits
  if (nearShare > overShare)
    return wrong({
      where: `${where}, limits`,
      what: `nearShare (${nearShare}) lies above overShare (${overShare}).`,
      cure: 'A force comes near the capacity before it is over it: make nearShare the smaller.',
    })
  return fine(rig.value)
}
