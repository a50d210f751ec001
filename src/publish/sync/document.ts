import { z } from 'zod'
import { parseDocument } from '../../core/parseDocument.ts'
import type { Outcome } from '../../core/problem.ts'

/**
 * The sync document, version 1: where the recordings of a study lie in one clip. What `tenterhook sync`
 * writes and what captions and overlay take. Clip times are the clip's own presentation times, whatever its
 * frame rate, in seconds from its start; recording times are those of the recording's axis. This file is the
 * single place of its shape.
 */

const figure = z.number().nullable()

const momentSchema = z.object({
  what: z.enum(['tap', 'break']),
  recordingS: z.number(),
})

export const placementSchema = z.object({
  recording: z.object({
    name: z.string(),
    sha256: z.string().describe('SHA-256 of the log; of several logs, the first'),
  }),
  fromS: z.number().describe('First reading of the stretch that this placement holds for, recording time'),
  toS: z.number().describe('Its last reading'),
  by: z.enum(['taps', 'breaks', 'taps-and-breaks', 'hand']),
  anchor: z
    .object({ recordingS: z.number(), clipS: z.number() })
    .describe(
      'The two clocks at one instant; elsewhere clip = clipS + nudgeS + (recording − recordingS) · (1 + ratePpm · 1e-6)',
    ),
  ratePpm: z.number().min(-1e5).max(1e5).describe("How much the clip's clock runs ahead, in millionths"),
  rateUncertaintyPpm: figure.describe('Half-width of a 95 % interval'),
  uncertaintyS: figure.describe(
    'Half-width of a 95 % interval of the clip time at the anchor; null: placed by hand',
  ),
  confidence: z
    .number()
    .min(0)
    .max(1)
    .nullable()
    .describe('Probability that this is the place, against every other and none; null: placed by hand'),
  confident: z.boolean(),
  accepted: z.boolean().describe('Captions and overlay use it: it is confident, or a person has accepted it'),
  nudgeS: z.number().describe('Added by hand to the clip times'),
  offsetS: z.number().describe('Clip time of the first reading of the stretch, nudge included'),
  matched: z.array(
    momentSchema.extend({
      clipS: z.number(),
      residualS: z.number().describe('Heard less expected'),
    }),
  ),
  unheard: z.array(momentSchema),
})

export const syncSchema = z.object({
  document: z.literal('tenterhook.sync'),
  version: z.literal(1),
  clip: z.object({
    name: z.string(),
    lengthS: z.number().min(0),
    transients: z.int().min(0).describe('Clicks that were heard in it'),
  }),
  placements: z.array(placementSchema),
  notPlaced: z.array(
    z.object({
      recording: z.object({ name: z.string(), sha256: z.string() }),
      fromS: z.number(),
      toS: z.number(),
      why: z.string(),
    }),
  ),
})

export type Placement = z.infer<typeof placementSchema>
export type Sync = z.infer<typeof syncSchema>

/** Reads a sync document. `where` is its file name, for the problems. */
export const parseSync = (text: string, where: string): Outcome<Sync> =>
  parseDocument(text, syncSchema, { where, schemaFile: 'sync.json' })
