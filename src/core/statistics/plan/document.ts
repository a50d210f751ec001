import { z } from 'zod'
import { figure, warning } from '../documentParts.ts'

/** The plan document, version 1: the single place of its shape, as `../document.ts` is of the comparison's. */
export const planSchema = z.object({
  document: z.literal('tenterhook.plan'),
  version: z.literal(1),
  engine: z.string(),
  perGroup: z.int().min(1),
  because: z.string(),
  variants: z.array(z.string()),
  goals: z.array(
    z.object({
      goal: z.enum(['difference', 'half-width', 'bound', 'bound-above', 'equivalence', 'trend', 'proof']),
      wanted: z.number().describe('In the unit of the plan'),
      perGroup: z.int().nullable().describe('null where no number within reason would do'),
      text: z.string(),
    }),
  ),
  scatter: z.object({
    mean: figure,
    sd: z.number(),
    cv: figure,
    from: z.enum(['guess', 'records']),
    text: z.string(),
  }),
  unit: z.string(),
  order: z.array(z.string()).describe('Specimens in the order in which to pull them'),
  blocks: z.array(z.array(z.string())),
  seed: z.int().min(0),
  powerCurve: z.array(z.object({ perGroup: z.int(), power: z.number() })),
  rig: z.array(z.object({ check: z.string(), ok: z.boolean(), text: z.string() })),
  advice: z
    .array(
      z.object({
        a: z.string(),
        b: z.string(),
        nA: z.int(),
        nB: z.int(),
        p: figure,
        limit: figure.describe('The p that counts as seen at this look'),
        state: z.enum(['too-few', 'seen', 'go-on', 'hardly', 'done']),
        moreA: z.int(),
        moreB: z.int(),
        text: z.string(),
      }),
    )
    .nullable()
    .describe('After the pulls so far'),
  looks: z
    .object({ stages: z.int().min(2), text: z.string() })
    .nullable()
    .optional()
    .describe('How many times it is to be compared, and what that costs; null for once'),
  correction: z.string().nullable().describe('How looking early is paid for, with its source'),
  warnings: z.array(warning),
})

export type Plan = z.infer<typeof planSchema>
