import { z } from 'zod'
import { parseDocument } from '../parseDocument.ts'
import type { Outcome } from '../problem.ts'
import { COIN_GRAMS } from './coins.ts'
import { WEIGHT_CLASSES } from './weightTolerance.ts'

/**
 * A file of everyday references, each under a name that the points file stacks: `jug + plate 2`.
 * Limits are ± half-widths between which the true value surely lies.
 */
const densityKgM3 = z.number().positive().max(25_000).optional().describe('Of the material, for buoyancy')

const weightSchema = z
  .strictObject({
    kind: z.literal('weight'),
    kg: z.number().positive(),
    class: z.enum(WEIGHT_CLASSES).optional().describe('Accuracy class of OIML R 111, if bought with one'),
    toleranceKg: z.number().nonnegative().optional().describe('Limits ± where there is no class'),
    densityKgM3,
  })
  .describe('A bought weight, or anything whose mass is known within limits')

const weighedSchema = z
  .strictObject({
    kind: z.literal('weighed'),
    kg: z.number().positive(),
    scaleErrorKg: z
      .number()
      .positive()
      .describe('Limits ± of the scale that weighed it: its stated error or one step'),
    densityKgM3,
  })
  .describe('A thing weighed on a kitchen, post or shop scale')

const waterSchema = z
  .strictObject({
    kind: z.literal('water'),
    litres: z.number().positive(),
    litresLimit: z.number().positive().describe('Limits ± of the volume: how well the mark can be filled to'),
    temperatureC: z.number().min(0).max(40),
    temperatureLimitC: z.number().nonnegative().default(2).describe('Limits ± of the temperature'),
  })
  .describe('Water by volume. The vessel hangs too: tare it out, or name it in the stack')

const coinsSchema = z
  .strictObject({
    kind: z.literal('coins'),
    count: z.int().positive(),
    coin: z.enum(Object.keys(COIN_GRAMS) as [string, ...string[]]).optional(),
    eachG: z.number().positive().optional().describe('Published mass of one, for coins not in the list'),
    eachLimitG: z.number().positive().optional().describe('Limits ± of one; 2 % where nothing is known'),
  })
  .describe('New coins of one kind')

const referenceSchema = z.discriminatedUnion('kind', [weightSchema, weighedSchema, waterSchema, coinsSchema])

export const referencesSchema = z.strictObject({
  document: z.literal('tenterhook.references').default('tenterhook.references'),
  version: z.literal(1).default(1),
  references: z.record(z.string().min(1), referenceSchema),
})

export type Reference = z.infer<typeof referenceSchema>
export type References = z.infer<typeof referencesSchema>

/** Reads a file of references. `where` is its name, for the problems. */
export const parseReferences = (text: string, where: string): Outcome<References> =>
  parseDocument(text, referencesSchema, { where, schemaFile: 'references.json' })
