import { z } from 'zod'

/** What the documents of comparison and plan have in common. */

export const figure = z.number().nullable()
export const interval = z.tuple([z.number(), z.number()]).readonly()
export const maybeInterval = interval.nullable()
export const bounds = z.object({ p90c95: figure, p99c95: figure })
export const suspect = z.object({
  test: z.enum(['Dixon', 'Grubbs', 'generalized ESD']),
  statistic: z.number(),
  critical: z.number(),
})
export const fTest = z.object({ f: z.number(), df1: z.number(), df2: z.number(), p: z.number() })
export const simultaneous = z.object({ ci95: interval, p: z.number() })
export const warning = z.object({ code: z.string(), text: z.string() })
