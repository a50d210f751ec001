import { z } from 'zod'

/** The time line of a control variant, the rig's checks and the engine's own readings, version 1: the single place of its shape. */

const figure = z.number().nullable()
const interval = z.tuple([z.number(), z.number()]).readonly()
const shift = z.object({ byPct: z.number(), ci95Pct: interval })
const day = z.string().describe('ISO 8601')

const change = z.object({
  from: day.describe('First day of the new level'),
  told: day.describe('Day with which it was told'),
  byPct: z.number(),
  ci95Pct: interval,
})

export const timeLineSchema = z.object({
  document: z.literal('tenterhook.time-line'),
  version: z.literal(1),
  engine: z.string().describe('Version of Tenterhook that made it'),
  control: z.object({
    name: z.string(),
    unit: z.string(),
    mean: figure.describe('Of the first level: what percentages are of'),
    days: z.array(
      z.object({ day, n: z.int(), mean: z.number(), pct: z.number(), engines: z.array(z.string()) }),
    ),
    changes: z.array(change),
  }),
  checks: z.object({
    appliedN: figure.describe('The mass that was hung most often; checks with others are left out'),
    days: z.array(z.object({ day, n: z.int(), errorPct: z.number() })),
    leftOut: z.int().min(0),
    changes: z.array(change),
  }),
  readAgain: z
    .array(
      z.object({
        from: z.string().describe('Version of the engine before'),
        to: z.string(),
        n: z.int().describe('Recordings of the study that both have read'),
        moved: z.int().describe('How many of them came out another by more than a thousandth'),
        meanPct: z.number(),
        greatestPct: z.number().describe('The furthest, with its sign'),
        at: day.describe('When they were read again, the first of them'),
      }),
    )
    .describe('Figures of the same recordings before and after a change of the engine'),
  findings: z.array(
    z.object({
      code: z.enum(['specimens-changed', 'rig-changed', 'both-changed', 'reading-changed', 'not-told']),
      from: day,
      control: shift.nullable(),
      checks: shift.nullable(),
      text: z.string(),
    }),
  ),
  verdict: z.string(),
  warnings: z.array(z.object({ code: z.string(), text: z.string() })),
})

export type TimeLine = z.infer<typeof timeLineSchema>
