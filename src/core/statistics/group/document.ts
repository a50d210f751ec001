import { z } from 'zod'
import { bounds, figure, interval, maybeInterval, suspect } from '../documentParts.ts'

/** A group in the comparison document: its figures, each with what is missing and why. */
export const comparedGroupSchema = z.object({
  name: z.string(),
  n: z.int().min(0).describe('Specimens with a value, those that only reached it included'),
  censored: z.int().min(0).describe('Of these, the ones that held at least their value'),
  mean: figure,
  sd: figure,
  cv: figure.describe('sd/mean as a ratio'),
  median: figure,
  quartiles: maybeInterval,
  min: figure,
  max: figure,
  ci95: maybeInterval.describe('Interval of the mean, the doubt that all values share included'),
  ci95OfScatter: maybeInterval.describe('Student interval of the mean, from the scatter alone'),
  sd95: maybeInterval,
  bootstrap95: maybeInterval.describe('BCa interval of the mean'),
  lowerBounds: bounds
    .extend({ method: z.enum(['normal', 'weibull']), normal: bounds, weibull: bounds, anyShape: bounds })
    .describe(
      'What 90 % and 99 % of specimens exceed with 95 % confidence; the two figures carry the shared doubt, normal, weibull and anyShape the scatter alone',
    ),
  weibull: z
    .object({
      shape: z.number(),
      scale: z.number(),
      shapeUnbiased: z.number(),
      shape95: interval,
      scale95: interval,
      p01: z.number(),
      p10: z.number(),
      p01ci95: interval,
      p10ci95: interval,
      censored: z.int(),
    })
    .nullable(),
  normality: z.object({ test: z.string(), statistic: z.number(), p: z.number() }).nullable(),
  andersonDarling: z.object({ statistic: z.number(), p: z.number() }).nullable(),
  outliers: z.array(
    suspect.extend({
      index: z.int().min(0).describe('Place among the specimens of the group that have a value'),
      value: z.number(),
      specimen: z.string(),
    }),
  ),
  missing: z
    .array(
      z.object({
        figure: z.string(),
        why: z.enum(['too-few', 'too-many', 'no-scatter', 'not-positive', 'censored']),
        text: z.string(),
        atLeast: figure.describe('How many specimens would do'),
      }),
    )
    .describe('Every null above, with its reason'),
  estimatedMean: z
    .object({ mean: z.number(), sd: z.number(), ci95: interval })
    .nullable()
    .optional()
    .describe(
      'Where some only reached their value: mean and sd by maximum likelihood with these as bounds, the shared doubt included',
    ),
  meanAtLeast: figure.describe('Where some only reached their value: the mean with these at their bounds'),
  notRecorded: z.array(z.string()).describe('Specimens without a value'),
  otherScale: z
    .array(z.string())
    .optional()
    .describe('Those of the dropped whose numbers lie on another scale than those compared: name their rig'),
  dropped: z.array(z.object({ specimen: z.string(), value: figure, why: z.string() })),
  sharedStandard: figure.describe(
    'Standard uncertainty of the mean from what the rig or a day moves together',
  ),
  ci95WithDoubt: maybeInterval.describe('ci95 where a shared doubt is known, else null'),
  doubt: z
    .object({ ownStandard: z.number(), shareOfVariance: figure })
    .nullable()
    .describe("The values' own doubt (root mean square) and the part of the scatter that it makes"),
})
