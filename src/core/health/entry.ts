import { z } from 'zod'
import { HEALTH_STEPS, type Health, wildPatternSchema } from './document.ts'

/**
 * What a rig's description keeps of one check of its health: enough to see over weeks what came and what
 * went.
 */
export const healthEntrySchema = z.strictObject({
  at: z.iso.datetime(),
  healthy: z.boolean(),
  findings: z.array(
    z.strictObject({ code: z.string(), size: z.number(), unit: z.string(), text: z.string() }),
  ),
  rateHz: z.number().positive().nullable(),
  noise: z.number().nonnegative().nullable().describe('Of one reading, in N or, with counts, in them'),
  forceUnit: z.string().nullable(),
  leastDropN: z.number().nonnegative().nullable(),
  waitMin: z.number().nonnegative().nullable(),
  settlingReadings: z
    .number()
    .nonnegative()
    .nullable()
    .optional()
    .describe('Readings that a sudden change takes; null where it was not looked at'),
  steps: z
    .array(z.enum(HEALTH_STEPS))
    .optional()
    .describe('Steps that it had: of what was not looked at an earlier check still holds'),
  wild: z
    .array(wildPatternSchema)
    .optional()
    .describe('What wild readings read that follow a pattern; in N or, with counts, in them'),
})

export type HealthEntry = z.infer<typeof healthEntrySchema>

/** Checks that a rig keeps: one a day for half a year. */
const MOST_ENTRIES = 180

export const entryOf = (health: Health, at: string): HealthEntry => ({
  at,
  healthy: health.healthy,
  findings: health.findings.map(({ code, size, unit, text }) => ({ code, size, unit, text })),
  rateHz: health.rateHz,
  noise: health.noise,
  forceUnit: health.forceUnit,
  leastDropN: health.leastDropN,
  waitMin: health.waitMin,
  settlingReadings: health.settlingReadings,
  steps: [...new Set(health.records.map(r => r.step))],
  wild: health.wild,
})

/** The history with one more check, the oldest left out where there are many. */
export const withEntry = (history: readonly HealthEntry[], entry: HealthEntry): HealthEntry[] =>
  [...history, entry].slice(-MOST_ENTRIES)
