import { z } from 'zod'
import { adjustmentSchema } from './adjustmentDocument.ts'
import { upgradedReading } from './upgradedReading.ts'

/**
 * The reading document, version 2: what a recording is taken to mean (design, section 4).
 * SI units; a figure that cannot be had is `null`, never 0 or NaN. Times are those of the recording's time axis.
 * This file is the single place of its shape: the types below and `schemas/reading.json` are made from it.
 * Documents of version 1 are brought to this shape by `upgradedReading`.
 */

const figure = z.number().nullable()

const span = z.object({ fromS: z.number(), toS: z.number() })

export const recordingSummarySchema = z.object({
  name: z.string(),
  sha256: z.string().describe('SHA-256 of the log; of several logs, the first'),
  samples: z.int().min(0),
  startS: z.number(),
  endS: z.number(),
  rateHz: z.number().describe('Samples a second, from the median step'),
  noiseN: z.number().describe('Standard deviation of the reading at rest, robust'),
  quantumN: z.number().describe('Step of the display; 0 where none can be seen'),
  forceUnit: z
    .string()
    .nullable()
    .describe(
      'Unit of the log; `counts`: raw counts without a calibration, null: not told. In both the numbers are those of the log',
    ),
  timeFrom: z.enum(['column', 'clock', 'rate']),
  gaps: z.array(span),
  spikes: z.array(z.object({ atS: z.number() })),
  overRange: z.object({ limitN: z.number(), count: z.int() }).nullable(),
  understood: z.string(),
  linesNotRead: z
    .int()
    .min(0)
    .nullable()
    .describe('Lines with numbers that were not read; null where nobody counted'),
  segments: z
    .array(
      span.extend({
        name: z.string(),
        sha256: z.string(),
        began: z.enum(['start', 'reset', 'file']),
        shiftS: z.number().describe("Seconds added to the log's own times"),
      }),
    )
    .describe('One for each time base: several logs of a specimen, or a reset of the device'),
})

export const zeroSchema = span.extend({
  levelN: z
    .number()
    .describe('Indicated force with no load on the specimen; readings are corrected by its negative'),
  uncertaintyN: z.number().describe('Half-width of a 95 % interval'),
  basis: z
    .enum(['rest', 'carried', 'indicated'])
    .describe(
      'rest: a stretch without load; carried: from a neighbour over a new setting of the zero; indicated: not seen, the readings stand as the indicator gave them',
    ),
  saidBy: z.string().optional().describe('Who said so; left out where the record shows it'),
})

export const pullSchema = z.object({
  startS: z.number(),
  endS: z.number(),
  peakS: z.number(),
  peakN: z.number(),
  uncertaintyN: figure,
  ends: z.enum(['break', 'unload', 'softening', 'end-of-record']),
})

export const elementsSchema = z.object({ estimate: z.number(), low: z.number(), high: z.number() })

export const eventSchema = z.object({
  kind: z.enum(['partial-break', 'break', 'slip', 'unload', 'regrip', 'rezero']),
  atS: z.number(),
  beforeN: z.number(),
  afterN: z.number(),
  dropN: z.number(),
  elements: elementsSchema.nullable(),
  confidence: z.number().min(0).max(1),
  saidBy: z.string().optional().describe('Who said so; left out where the record shows it'),
})

/** A zero that remains possible where it was not seen, and the peak that would follow from it. */
export const zeroAlternativeSchema = z.object({
  levelN: z.number().describe('Indicated force without load'),
  weight: z.number().min(0).max(1),
  peakN: z.number(),
  basis: z.string().describe('What it would rest on, in a few words'),
})

export const peakForceSchema = z.object({
  status: z
    .enum(['measured', 'at-least', 'not-reached', 'not-recorded', 'no-pull'])
    .describe('Whether the strength was reached'),
  zero: z
    .enum(['seen', 'set-under-load', 'as-indicated'])
    .describe(
      'Whether the unloaded cell was seen; set-under-load: seen, and the indicator had been zeroed with load on the specimen',
    ),
  zeroAlternatives: z
    .array(zeroAlternativeSchema)
    .nullable()
    .describe('Zeros that keep over 5 %, where the zero was not seen; lowN and highN cover them'),
  valueN: figure,
  uncertaintyN: figure.describe(
    'Half-width of a 95 % interval; lowN and highN count where the interval is lopsided',
  ),
  lowN: figure,
  highN: figure,
  covers: z.array(z.string()).describe('Causes of doubt that the interval covers'),
  atS: figure,
  indicatedN: figure.describe('Greatest reading as the log has it, in newton, without any correction'),
})

export const resultsSchema = z.object({
  peakForce: peakForceSchema,
  partialBreaks: z.int().min(0),
  laterPeaks: z.array(
    z.object({
      valueN: z.number(),
      uncertaintyN: figure.describe(
        'Half-width of a 95 % interval of this pull and its zero alone; what a rig or a day shares stands in budget, for the peak',
      ),
      atS: z.number(),
      pull: z.int().describe('Index in pulls, from 0'),
    }),
  ),
  timeToPeakS: figure,
  stiffness: z.object({ value: z.number(), unit: z.string() }).nullable(),
  work: z
    .object({
      valueJ: z.number(),
      uncertaintyJ: figure.describe(
        'Half-width of a 95 % interval by the zero over the way alone; the scale and what lies between samples stand in budget, for the peak',
      ),
    })
    .nullable(),
  loadingRate: z
    .object({
      meanNPerS: z.number(),
      unevenness: figure.describe('Interquartile range of the rate over its mean; 0 is perfectly steady'),
    })
    .nullable()
    .optional()
    .describe('Over the straight part of the main pull'),
})

export const budgetLineSchema = z.object({
  source: z.string(),
  standardN: z.number().describe('Standard uncertainty'),
  correctionN: z.number().describe('What was added to the indicated peak on this account; 0 for none'),
  shared: z
    .enum(['none', 'recording', 'day', 'rig'])
    .describe('Shared parts do not shrink in a mean and cancel in a difference on one rig'),
  of: z
    .string()
    .optional()
    .describe(
      'Which one shares it: a calibration of a rig, a named reference mass; by its source where left out',
    ),
})

export const warningSchema = z.object({ code: z.string(), text: z.string() })

export const readingSchema = z.object({
  document: z.literal('tenterhook.reading'),
  version: z.literal(2),
  engine: z.string().describe('Version of Tenterhook that made it'),
  specimen: z
    .object({
      name: z.string().nullable(),
      variant: z.string().nullable(),
      elements: z.int().nullable(),
      widthMm: figure,
      thicknessMm: figure,
      lengthMm: figure,
      mode: z.string().nullable(),
      note: z.string().nullable(),
    })
    .nullable()
    .describe('What a table of specimens says of it'),
  recording: recordingSummarySchema,
  zeros: z.array(zeroSchema),
  pulls: z.array(pullSchema),
  events: z.array(eventSchema),
  results: resultsSchema,
  budget: z.array(budgetLineSchema),
  warnings: z.array(warningSchema),
  adjustments: z
    .array(adjustmentSchema)
    .optional()
    .describe('What a person changed in this reading, in the order of replay; left out where nothing was'),
})

/** The same, where it may have been written by an older version. */
export const storedReadingSchema = z.preprocess(upgradedReading, readingSchema)

export type Reading = z.infer<typeof readingSchema>
export type Zero = z.infer<typeof zeroSchema>
export type Pull = z.infer<typeof pullSchema>
export type Elements = z.infer<typeof elementsSchema>
export type ReadingEvent = z.infer<typeof eventSchema>
export type ZeroAlternative = z.infer<typeof zeroAlternativeSchema>
export type PeakForce = z.infer<typeof peakForceSchema>
export type Results = z.infer<typeof resultsSchema>
export type BudgetLine = z.infer<typeof budgetLineSchema>
export type Warning = z.infer<typeof warningSchema>
