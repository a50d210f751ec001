import { z } from 'zod'

/** Unit of a load: a mass, which only gravity makes a force, or a force. */
const loadUnitSchema = z.object({
  kind: z.enum(['mass', 'force']),
  factor: z.number().positive().describe('kg or newton in one'),
  name: z.string(),
})

/** One row of a table of points, as written and not yet in newton. */
const pointRowSchema = z.object({
  line: z.int().min(0).describe('Line of the table'),
  load: z.number().min(0).nullable().describe('What hangs on the rig; null where a stack says it'),
  loadUnit: loadUnitSchema.nullable(),
  stack: z.string().nullable().describe('Names of references joined by +'),
  tolerance: z.number().min(0).nullable().describe('Limits ± of the load, in its unit'),
  densityKgM3: z.number().nullable().describe('Of the load, for air buoyancy'),
  reading: z.number(),
  readingDecimals: z.int().min(0).describe('As written: 20.00 has two'),
  direction: z
    .enum(['up', 'down'])
    .nullable()
    .describe('Whether the load was growing; from the order where null'),
  cycle: z.number().nullable().describe('From the order where null'),
})

export const pointsTableSchema = z.array(pointRowSchema)

export type LoadUnit = z.infer<typeof loadUnitSchema>
export type PointRow = z.infer<typeof pointRowSchema>
