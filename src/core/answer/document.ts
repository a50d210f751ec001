import { z } from 'zod'

/**
 * The answer of a comparison, as it stands in the comparison document: what is said first, on every page and in every
 * figure. Amounts are in the comparison's unit; words carry no amounts, so that they hold in every unit.
 */

const figure = z.number().nullable()

export const answerSchema = z.object({
  headline: z.string().describe('At most twelve words'),
  ranking: z
    .array(
      z.object({
        name: z.string(),
        n: z.int().min(0),
        place: z
          .object({ from: z.int().min(1), to: z.int().min(1), shared: z.boolean() })
          .nullable()
          .describe(
            'The places that it may have; shared only where equivalence is shown; null without a value',
          ),
        value: z
          .object({ middle: z.number(), low: figure, high: figure, atLeast: z.boolean() })
          .nullable()
          .describe(
            'Mean with its 95 % interval; of specimens that only reached a bound the least that it may be',
          ),
        noValue: z
          .string()
          .optional()
          .describe('Why it has no value, where it was pulled and measured all the same'),
        difference: z
          .object({
            to: z.string(),
            verdict: z.enum(['more', 'as-good', 'undecided']),
            by: figure,
            low: figure,
            high: figure,
            chance: figure.describe('That a random specimen of it beats one of the next, where that decides'),
          })
          .nullable()
          .describe('To the variant on the next line'),
      }),
    )
    .describe('Best first'),
  doubts: z
    .array(z.object({ code: z.string(), text: z.string() }))
    .describe('The gravest first, a line each'),
  next: z.object({
    kind: z.enum([
      'assign',
      'name-rig',
      'pull-first',
      'add-variant',
      'pull-more',
      'plan',
      'write-in',
      'pull',
      'tie-blocks',
      'reach-higher',
      'finer-display',
      'less-scatter',
      'enough',
      'check-scale',
      'tell',
    ]),
    text: z.string(),
    perGroup: z.int().nullable().describe('How many more of each to pull, where that is the step'),
  }),
})

export type Answer = z.infer<typeof answerSchema>
export type RankedVariant = Answer['ranking'][number]
export type NextStep = Answer['next']
