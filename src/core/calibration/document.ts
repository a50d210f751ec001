import { z } from 'zod'

/**
 * The calibration document, version 1: known forces against readings, and the fit (design, section 4).
 * SI units; a figure that cannot be had is `null`. The single place of its shape: the types below and
 * `schemas/calibration.json` are made from it.
 */

const figure = z.number().nullable()

const warningSchema = z.object({ code: z.string(), text: z.string() })

const gravityFromSchema = z.object({
  halfWidthMs2: z.number().nonnegative().describe('Limits ± between which the true gravity lies'),
  from: z.enum(['typed', 'place', 'unknown']),
  text: z.string(),
})

const calibrationPointSchema = z.object({
  line: z.int().min(0).describe('Line of the points file; 0 where there is none'),
  appliedN: z.number(),
  reading: z.number(),
  direction: z.enum(['up', 'down']),
  cycle: z.int(),
  residualN: z.number().describe('Applied less fitted force'),
  used: z.boolean().describe('False where it was left out of the fit'),
  suspect: z.boolean().describe('Far off the others (kept unless the user leaves it out)'),
})

const errorsSchema = z
  .object({
    indicationPct: figure.describe('q: mean indicated less true, over true; the greatest in size'),
    repeatabilityPct: figure.describe('b: greatest less smallest indicated of one step rising, over true'),
    reversibilityPct: figure.describe('v: indicated falling less rising, over true; the greatest in size'),
    zeroPct: figure.describe('f0: indication left after unloading, over the greatest force'),
    resolutionPct: figure.describe('a: resolution over the force, at the lowest step'),
  })
  .describe('As ISO 7500-1 defines them')

const stepSchema = z.object({
  atN: z.number(),
  readings: z.int(),
  runs: z
    .int()
    .optional()
    .describe('Runs in which it was loaded on the way up; not in documents of engines before it'),
  indicationPct: figure,
  repeatabilityPct: figure,
  reversibilityPct: figure,
  resolutionPct: figure,
  class: z.enum(['0.5', '1', '2', '3']).nullable(),
})

const verdict = {
  errors: errorsSchema,
  class: z
    .enum(['0.5', '1', '2', '3'])
    .nullable()
    .describe('The limits that the rig keeps within; null for none. Not a certificate'),
  why: z.string(),
  range: z
    .object({ fromN: figure, toN: figure })
    .describe('Forces over which the class holds; null figures where no class does'),
  steps: z.array(stepSchema),
}

const verdictSchema = z.object(verdict)

const uncertaintySchema = z.object({
  atN: z.number(),
  expandedN: z.number().describe('Half-width of a 95 % interval for a force that one reading stands for'),
  standardN: z.number(),
  df: figure.describe('Effective degrees of freedom; null for infinitely many'),
  k: z.number().describe('Coverage factor'),
  parts: z.array(
    z.object({
      source: z.string(),
      standardN: z.number(),
      df: figure,
      shared: z.enum(['none', 'recording', 'day', 'rig']),
    }),
  ),
})

const scalePointSchema = z.object({ atN: z.number(), standardN: z.number() })

export const calibrationSchema = z.object({
  document: z.literal('tenterhook.calibration'),
  version: z.literal(1),
  engine: z.string().describe('Version of Tenterhook that made it'),
  name: z.string().describe('The points file'),
  date: z.iso.date().nullable(),
  gravity: z.number().describe('m/s²'),
  gravityFrom: gravityFromSchema,
  readingUnit: z.string().describe('counts, or the unit of force that the rig shows'),
  resolution: figure.describe('Smallest step of a reading, in its own unit'),
  form: z.literal('force = c0 + c1 reading + c2 reading² …'),
  degree: z.int().min(1).max(3),
  throughZero: z.boolean(),
  degreeWhy: z.string(),
  weighted: z.boolean().describe('Points weighted because the doubts of their forces differ'),
  coefficients: z.array(z.number()).describe('c0, c1, …: newton per power of the reading'),
  standardErrors: z.array(z.number()),
  residualSd: figure.describe('In newton'),
  df: z.int(),
  zeroReading: z.number().describe('Reading of the empty hook: measured, or where the fit crosses zero'),
  points: z.array(calibrationPointSchema),
  ...verdict,
  corrected: verdictSchema
    .nullable()
    .describe('The same with the fit applied; null where the readings are counts, which always need it'),
  limitsNote: z.string(),
  behaviour: z.object({
    spanReading: z.number().describe('Change of the reading from the empty hook to the greatest force'),
    nonLinearityPct: figure.describe(
      'Greatest departure of the rising steps from a straight line through their ends, over the greatest force',
    ),
    hysteresisPct: figure.describe('Greatest falling less rising, over the greatest force'),
    zeroReturnPct: figure,
  }),
  calibratedRange: z.object({ fromN: z.number(), toN: z.number() }),
  uncertainty: z.array(uncertaintySchema),
  scale: z
    .array(scalePointSchema)
    .describe('Doubt of a force measured from the record’s own zero, as far as the rig causes it'),
  monteCarlo: z
    .object({
      atN: z.number(),
      trials: z.int(),
      seed: z.int(),
      expandedN: z.number(),
      byBudgetN: z.number(),
    })
    .nullable()
    .describe('Check of the greatest step’s interval by GUM supplement 1'),
  warnings: z.array(warningSchema),
})

export type Calibration = z.infer<typeof calibrationSchema>
export type CalibrationErrors = z.infer<typeof errorsSchema>
export type Verdict = z.infer<typeof verdictSchema>
export type Uncertainty = z.infer<typeof uncertaintySchema>
export type Warning = z.infer<typeof warningSchema>
export type AccuracyClass = '0.5' | '1' | '2' | '3'
