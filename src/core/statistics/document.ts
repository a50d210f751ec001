import { z } from 'zod'
import { answerSchema } from '../answer/document.ts'
import { figure, fTest, interval, maybeInterval, simultaneous, suspect, warning } from './documentParts.ts'
import { comparedGroupSchema } from './group/document.ts'

/**
 * The comparison document, version 2. Values are in `unit`; a figure that cannot be had
 * is `null`, never 0 or NaN. This file is the single place of their shape: the types below and the schemas in
 * `schemas/` are made from it.
 */

const comparedSpecimenSchema = z.object({
  name: z.string(),
  group: z.string(),
  status: z.enum(['measured', 'at-least', 'not-recorded', 'not-reached']),
  value: figure.describe('Measured value; of an at-least the bound that was reached'),
  low: figure.describe("Ends of the value's own 95 % interval"),
  high: figure,
  mode: z.string().nullable().describe('How it failed'),
  block: z.string().nullable(),
  day: z.string().nullable(),
  order: figure.describe('Place in the order of pulling'),
  dropped: z.string().nullable().describe('Why it does not count; null where it does'),
  failedOtherwise: z
    .boolean()
    .optional()
    .describe('Failed in another way than the one that is compared: it held at least its value against that'),
  suspect: suspect.nullable().describe('Named as standing apart; it counts all the same'),
})

const comparedPairSchema = z.object({
  a: z.string(),
  b: z.string(),
  difference: figure.describe('Of a less b, as the deciding test has it'),
  ci95: maybeInterval.describe(
    'Simultaneous over the family: it leaves 0 out exactly where seen; null where ranks decide',
  ),
  t: figure,
  df: figure,
  p: figure.describe('Of the deciding test, for the pair by itself'),
  pAdjusted: figure.describe('The same over the family: the level at which ci95 would just reach 0'),
  decidedBy: z.enum(['welch', 'ranks', 'blocks', 'covariate', 'censored']).nullable(),
  seen: z.boolean().describe('pAdjusted is below 0.05'),
  verdict: z
    .enum(['different', 'equivalent', 'undecided'])
    .describe('different where seen; equivalent where the means were shown to lie within worthShare'),
  equivalence: z
    .object({ margin: z.number(), ci90: interval, shown: z.boolean() })
    .nullable()
    .describe('Two one-sided tests against what is worth a difference; null where nobody said what is'),
  welch: z
    .object({
      difference: z.number(),
      standardError: z.number(),
      ci95: interval,
      t: z.number(),
      df: z.number(),
      p: z.number(),
    })
    .nullable()
    .describe('The pair by itself, from the scatter alone'),
  mannWhitney: z
    .object({
      u: z.number(),
      p: z.number(),
      method: z.enum(['exact', 'normal']),
      smallestP: z.number().describe('The smallest p that such groups could give'),
    })
    .nullable(),
  permutation: z
    .object({
      p: z.number(),
      arrangements: z.int(),
      method: z.enum(['exact', 'random']),
      seed: z.int().nullable(),
    })
    .nullable(),
  effect: figure.describe("Hedges's g"),
  effect95: maybeInterval,
  chance: z
    .object({ aBeatsB: z.number(), ci95: interval })
    .nullable()
    .describe('Chance that a random specimen of a beats one of b'),
  tukey: simultaneous.nullable(),
  gamesHowell: simultaneous.nullable(),
  blocked: z
    .object({ difference: z.number(), ci95: interval, t: z.number(), df: z.number(), p: z.number() })
    .nullable()
    .describe('Difference within blocks, from the two-way layout'),
  withDoubt: z
    .object({ sharedStandard: z.number(), ci95: interval, p: z.number() })
    .nullable()
    .describe('The pair by itself with the doubt that the groups do not share'),
  detectable: figure.describe('The smallest difference that would have been seen 8 times in 10'),
})

export const comparisonSchema = z.object({
  document: z.literal('tenterhook.comparison'),
  version: z.literal(2),
  engine: z.string().describe('Version of Tenterhook that made it'),
  quantity: z.string(),
  unit: z.string(),
  groups: z.array(comparedGroupSchema),
  overall: z
    .object({
      anova: fTest.nullable(),
      welch: fTest.nullable(),
      kruskalWallis: z.object({ h: z.number(), df: z.int(), p: z.number() }).nullable(),
      levene: z.object({ w: z.number(), df1: z.number(), df2: z.number(), p: z.number() }).nullable(),
    })
    .nullable(),
  family: z
    .object({
      count: z.int().min(0).describe('Pairs that are judged together'),
      level: z.number().describe('Chance of even one false alarm among them at this look'),
      look: z
        .int()
        .nullable()
        .optional()
        .describe('Which look at the study it is, where there are several; null for a single one'),
      against: z
        .string()
        .nullable()
        .optional()
        .describe('Group that all others are compared with, where they are not compared with each other'),
    })
    .describe('What the simultaneous intervals and adjusted p hold over'),
  worthShare: figure.describe('What is worth a difference, as a share of the mean; null where nobody said'),
  mode: z
    .string()
    .nullable()
    .optional()
    .describe('The one way of failing that is compared; null for whatever let go first'),
  pairs: z.array(comparedPairSchema),
  blocks: z
    .object({
      by: z.string(),
      tied: z.boolean(),
      groups: fTest.nullable(),
      blocks: fTest.nullable(),
      interaction: fTest
        .extend({ judgedAgainst: z.boolean() })
        .nullable()
        .optional()
        .describe(
          'Do all groups react alike to the blocks? judgedAgainst: differences are judged against it, as it showed or could not be excluded',
        ),
      control: z
        .object({
          group: z.string(),
          means: z.array(z.object({ block: z.string(), n: z.int(), mean: z.number() })),
        })
        .nullable(),
    })
    .nullable(),
  trend: z
    .object({ slope: z.number(), ci95: interval, t: z.number(), df: z.int(), p: z.number() })
    .nullable()
    .describe('Change from one pull to the next, with a mean for each group'),
  factor: z
    .object({
      unit: z.string().describe('Of the number in the names'),
      slope: z.number(),
      ci95: interval,
      t: z.number(),
      df: z.int(),
      p: z.number(),
      line: z.array(z.object({ at: z.number(), value: z.number() })),
      lackOfFit: fTest.nullable(),
      bend: z
        .object({ t: z.number(), df: z.int(), p: z.number() })
        .nullable()
        .optional()
        .describe('Test of a square beside the line'),
      curve: z
        .object({
          degree: z.union([z.literal(1), z.literal(2)]),
          points: z.array(z.object({ at: z.number(), value: z.number(), low: z.number(), high: z.number() })),
        })
        .nullable()
        .optional()
        .describe('The mean over the number with the band that holds all of it 95 times in 100'),
    })
    .nullable()
    .optional()
    .describe('Where the groups differ by a number in their names: the values as a line over it'),
  covariate: z
    .object({
      name: z.string(),
      used: z.boolean().describe('Whether pairs are judged at one covariate'),
      slope: z.number(),
      ci95: interval,
      t: z.number(),
      df: z.int(),
      p: z.number(),
      at: z.number().describe('Where the groups are compared'),
      adjusted: z.array(z.object({ group: z.string(), mean: z.number() })),
      residualSd: z.number(),
      sdWithout: z.number().describe('Scatter within groups without it'),
      slopesAlike: fTest.nullable(),
      groupsDiffer: fTest.nullable().describe('Do the groups differ in the covariate itself?'),
    })
    .nullable()
    .optional()
    .describe('What was measured on each specimen and is taken out of the scatter'),
  borrowed: z
    .object({
      prior: z.object({ cv: z.number(), cv95: interval, worthDf: z.number(), groups: z.int() }),
      pairs: z.array(
        z.object({
          a: z.string(),
          b: z.string(),
          difference: z.number(),
          ci95: interval,
          p: z.number(),
          cv: z.number(),
          text: z.string(),
        }),
      ),
      text: z.string(),
    })
    .nullable()
    .optional()
    .describe('Pairs of few specimens with the scatter of like studies; the plain answer stands in pairs'),
  proof: z
    .object({
      load: z.number().describe('In the unit of the comparison'),
      groups: z.array(
        z.object({
          group: z.string(),
          held: z.int(),
          of: z.int(),
          notTold: z.int(),
          close: z.int().describe('Counted by their value though their own doubt reaches over the load'),
          ci95: maybeInterval.describe('Of the share that holds'),
          atLeast: figure.describe('A share that holds, with 95 % confidence, at the least'),
          text: z.string(),
        }),
      ),
    })
    .nullable()
    .optional()
    .describe('How many held a given load'),
  modes: z
    .array(
      z.object({
        group: z.string(),
        mode: z.string().nullable(),
        n: z.int(),
        mean: figure,
        ci95: maybeInterval.optional(),
      }),
    )
    .describe(
      'How strong each group is against each way of failing; what failed in another way counts as having held at least so much',
    ),
  specimens: z.array(comparedSpecimenSchema),
  answer: answerSchema.optional().describe('What is said first; not in documents of engines before it'),
  verdict: z.string(),
  inStatistics: z.string(),
  notShown: z.string().nullable(),
  needMore: z
    .object({
      perGroup: z.int().describe('To pull of each group beyond those there are'),
      inAll: z.int(),
      blocks: z
        .int()
        .nullable()
        .optional()
        .describe('With blocks: how many more of them, not specimens, it takes'),
      toSee: figure.describe('Difference that would then be seen 8 times in 10'),
      toSeePct: figure,
    })
    .nullable(),
  warnings: z.array(warning),
})

export type Comparison = z.infer<typeof comparisonSchema>
export type ComparedGroup = z.infer<typeof comparedGroupSchema>
export type ComparedPair = z.infer<typeof comparedPairSchema>
export type ComparedSpecimen = z.infer<typeof comparedSpecimenSchema>
export type ComparisonWarning = z.infer<typeof warning>
