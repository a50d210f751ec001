import { z } from 'zod'

/**
 * What is wrong with a rig, what it costs and what to do: version 1, as `tenterhook rig health --json`
 * prints it.
 */

export const HEALTH_CODES = [
  'rate',
  'jitter',
  'lost',
  'repeated',
  'noise',
  'glitch-doubled',
  'glitch-halved',
  'glitch-ones',
  'glitch-channel',
  'glitch-other',
  'hum',
  'averaging',
  'drift',
  'warm-up',
  'stuck',
  'saturated',
  'creep',
  'sign',
  'backlash',
  'untared',
] as const

export const HEALTH_STEPS = ['free', 'mass', 'taps', 'pull', 'ordinary'] as const

const evidenceSchema = z
  .strictObject({
    record: z.int().nonnegative().describe('Which of the records, from 0'),
    atS: z.array(z.number()).describe('Single readings, at most 200 of them'),
    spans: z.array(z.strictObject({ fromS: z.number(), toS: z.number() })).describe('Stretches'),
  })
  .describe('Where in a record it is seen')

export const wildPatternSchema = z
  .strictObject({
    slope: z.number(),
    shiftN: z.number(),
    withinN: z.number().nonnegative(),
  })
  .describe('A wild reading at a level reads slope · level + shiftN, to within withinN')

const findingSchema = z.strictObject({
  code: z.enum(HEALTH_CODES),
  size: z.number().describe('In the unit beside it; what is measured stands in docs/rig-health.md'),
  unit: z.string(),
  costN: z
    .number()
    .nonnegative()
    .nullable()
    .describe('What it may cost on a peak force; null where the records do not tell'),
  text: z.string(),
  cure: z.string(),
  evidence: z.array(evidenceSchema),
})

export const healthSchema = z
  .strictObject({
    document: z.literal('tenterhook.health'),
    version: z.literal(1),
    findings: z.array(findingSchema).describe('Gravest first'),
    healthy: z.boolean(),
    rateHz: z.number().positive().nullable().describe('Fresh readings a second; null where no time is known'),
    noise: z.number().nonnegative().nullable().describe('Standard deviation of a reading at rest, as stepN'),
    bits: z
      .number()
      .nullable()
      .describe(
        'Binary logarithm of the converter’s range over the noise; null where its range is not known',
      ),
    stepN: z.number().nonnegative().nullable().describe('Step of the display; 0 where none can be seen'),
    forceUnit: z
      .string()
      .nullable()
      .describe(
        'Unit of the log. In counts, or where it is not told, every …N stands in the log’s own scale',
      ),
    settlingReadings: z
      .number()
      .nonnegative()
      .nullable()
      .describe('Readings that a sudden change takes; from taps'),
    wild: z
      .array(wildPatternSchema)
      .describe('What wild readings read that follow a pattern, each seen four times or more'),
    stiffnessNPerMm: z.number().positive().nullable(),
    loadingNPerS: z.number().positive().nullable().describe('How fast the force rose in the pull by hand'),
    leastDropN: z
      .number()
      .nonnegative()
      .nullable()
      .describe('A drop smaller than this cannot be told from the noise, the hum and the display step'),
    waitMin: z
      .number()
      .nonnegative()
      .nullable()
      .describe(
        'Minutes to wait, from the start of the record, until the zero stands; null where it does or none was seen to move',
      ),
    records: z.array(z.strictObject({ name: z.string(), step: z.enum(HEALTH_STEPS), sha256: z.string() })),
    notKnown: z.array(z.string()).describe('What the steps that were left out would have told'),
  })
  .describe('The health of a rig')

export type Health = z.infer<typeof healthSchema>
export type HealthFinding = Health['findings'][number]
export type HealthCode = HealthFinding['code']
export type HealthStep = (typeof HEALTH_STEPS)[number]
export type Evidence = HealthFinding['evidence'][number]
