import { z } from 'zod'
import { filmSchema } from '../study/films.ts'

/**
 * The study document, version 1 (`study.json` of a data package): all that is known of a study besides its
 * samples and figures, and what each figure was made with, so that it can be made again from the raw data.
 * Paths are those of the package. A figure that is not known is `null`. The single place of its shape.
 */

const figure = z.number().nullable()
const path = z.string().min(1)
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)

const remarkSchema = z.object({ text: z.string(), operator: z.string(), at: z.string().nullable() })
const warningSchema = z.object({ code: z.string(), text: z.string() })
const photoSchema = z.object({
  path,
  name: z.string(),
  caption: z.string(),
  mime: z.enum(['image/jpeg', 'image/png', 'image/webp']),
})

const logSchema = z.object({
  path,
  name: z.string().describe('As it was received'),
  sha256,
  bytes: z.int().min(0),
  source: z.enum(['log', 'live']).describe('A file that was given, or the journal of a capture'),
  startedAt: z.string().nullable(),
  options: z
    .object({
      time: z.string().optional(),
      force: z.string().optional(),
      unit: z.string().optional(),
      rateHz: z.number().positive().optional(),
      tension: z.enum(['positive', 'negative']).optional(),
      decimal: z.enum(['comma', 'point']).optional(),
      encoding: z.string().optional(),
      capacityN: z
        .number()
        .positive()
        .optional()
        .describe('What the operator said that the cell may read, in newton'),
    })
    .describe('How it was told to be read; what is left out was found out from the log'),
})

/** The page as the maker composed it (`ToldPage`); parts that a later version knows may stand in it. */
const pageSchema = z.object({
  version: z.literal(1),
  blocks: z.array(
    z.discriminatedUnion('kind', [
      z.object({
        kind: z.literal('part'),
        part: z.string().describe('answer, method, specimens …: a part that Tenterhook makes'),
        shown: z.boolean(),
        words: z.string().describe('What the maker says before it'),
      }),
      z.object({
        kind: z.literal('own'),
        id: z.string(),
        shown: z.boolean(),
        heading: z.string(),
        words: z.string(),
      }),
    ]),
  ),
  folded: z.array(z.string()).describe('Specimens that the page only names'),
})

const specimenSchema = z.object({
  name: z.string(),
  variant: z.string().nullable(),
  status: z.enum(['planned', 'pulled', 'left-out']),
  statusReason: z.string(),
  failureMode: z.string().nullable(),
  operator: z.string(),
  batch: z.string(),
  temperatureC: figure,
  humidityPct: figure,
  widthMm: figure,
  thicknessMm: figure,
  lengthMm: figure,
  elements: z.int().nullable(),
  note: z.string(),
  remarks: z.array(remarkSchema),
  pulledAt: z.string().nullable(),
  pullOrder: z
    .int()
    .positive()
    .nullable()
    .default(null)
    .describe('Which pull of the study it was, from 1, as a person told it'),
  photos: z.array(photoSchema),
  logs: z.array(logSchema).describe('In the order in which they are joined'),
  setAside: z.array(z.object({ name: z.string(), why: z.string() })).describe('Logs that do not count'),
  readWith: z
    .object({
      rig: path.nullable(),
      day: z.string().nullable(),
      calibration: z
        .string()
        .nullable()
        .default(null)
        .describe(
          'The calibration of the rig that a person chose: its day, the unit of its readings, its line',
        ),
    })
    .describe(
      'Rig whose calibration gives the force, and the day whose calibration counts unless one was chosen',
    ),
  clean: z.object({ csv: path, parquet: path }).nullable().describe('The samples as they were read'),
  adjustments: path.nullable(),
  reading: path.nullable(),
})

const comparedSchema = z.object({
  path,
  blocksBy: z.string().nullable(),
  control: z.string().nullable(),
  per: z.enum(['width', 'length', 'area', 'bond-area']).nullable(),
  dimensionDoubtMm: figure,
  shown: z.object({ unit: z.string(), per: z.number().positive() }).nullable(),
  worthShare: z.number().positive().nullable(),
  seed: z.int().min(0),
  warnings: z.array(warningSchema),
  specimens: z.array(
    z.object({
      specimen: z.int().min(0).describe('Place in specimens, from 0'),
      name: z.string(),
      group: z.string(),
      mode: z.string().nullable(),
      block: z.string().nullable(),
      day: z.string().nullable(),
      order: figure,
      dropped: z.string().nullable(),
    }),
  ),
})

export const studyDocumentSchema = z.object({
  document: z.literal('tenterhook.study'),
  version: z.literal(1),
  engine: z.string().describe('Version of Tenterhook that made the package'),
  madeAt: z.string(),
  name: z.string(),
  question: z.string(),
  method: z.string(),
  quantity: z.enum(['peakForce', 'laterPeak', 'work', 'partialBreaks', 'stiffness']),
  forceUnit: z.string(),
  variants: z.array(z.object({ name: z.string(), control: z.boolean(), note: z.string() })),
  specimens: z.array(specimenSchema),
  rig: path.nullable(),
  checks: path.nullable(),
  plan: path.nullable(),
  comparison: comparedSchema.nullable(),
  notCompared: z.string().nullable(),
  remarks: z.array(remarkSchema),
  photos: z.array(photoSchema),
  equivalents: z.array(z.object({ name: z.string(), plural: z.string(), massKg: z.number() })),
  page: pageSchema
    .nullable()
    .default(null)
    .describe('How the report is put together; null or left out: in the usual way'),
  films: z
    .array(filmSchema)
    .default([])
    .describe(
      'Where the recordings lie in films, by the names of the films and the hashes of the recordings; the films are not in the package',
    ),
})

export type StudyDocument = z.infer<typeof studyDocumentSchema>
export type StudySpecimen = StudyDocument['specimens'][number]
