import { z } from 'zod'
import { parseDocument } from '../parseDocument.ts'
import { fine, type Outcome } from '../problem.ts'

/**
 * The adjustments document, version 1: what a person changed in a reading, in order, each with who, when and why.
 * It is what `--adjust FILE` takes and what a study keeps; it is replayed at every reading and never baked in.
 * Each adjustment is anchored by time on the recording's axis, so that it finds its target again after the engine
 * has changed. This file is the single place of its shape.
 */

const seconds = z.number().describe("Seconds on the recording's time axis")

const signed = z.object({
  id: z.string().min(1).max(80).describe('Unique in the list; taking the adjustment out again is by it'),
  who: z.string().min(1).max(200),
  when: z.iso.datetime({ offset: true }).describe('ISO 8601 with zone, 2026-05-04T14:20:00Z'),
  why: z.string().min(1).max(2000),
})

const spanned = signed.extend({ fromS: seconds, toS: seconds })

const runsForward = { error: 'must be later than fromS', path: ['toS'] }
const forward = (a: { fromS: number; toS: number }): boolean => a.toS > a.fromS

export const adjustmentSchema = z.discriminatedUnion('kind', [
  spanned
    .extend({ kind: z.literal('zero-here') })
    .refine(forward, runsForward)
    .describe('The specimen carried nothing in this stretch'),
  spanned
    .extend({ kind: z.literal('hold') })
    .refine(forward, runsForward)
    .describe('The specimen carried a load in this stretch: it tells nothing of the zero'),
  signed
    .extend({ kind: z.literal('drop-pull'), atS: seconds })
    .describe('The pull at this time is no pull of the specimen'),
  signed
    .extend({
      kind: z.literal('relabel'),
      atS: seconds,
      as: z.enum(['partial-break', 'break', 'slip', 'none']),
    })
    .describe('What the drop at this time is; none: nothing happened'),
  spanned
    .extend({ kind: z.literal('cut') })
    .refine(forward, runsForward)
    .describe('The samples of this stretch are left out'),
  spanned
    .extend({
      kind: z.literal('shift'),
      byS: z.number().nullable(),
      byMm: z.number().nullable(),
    })
    .refine(forward, runsForward)
    .refine(a => a.byS !== null || a.byMm !== null, {
      error: 'byS or byMm must say how far',
      path: ['byS'],
    })
    .describe('Moves this stretch along the joined curve: in loading time, in travel, or in both'),
  signed
    .extend({ kind: z.literal('elements'), count: z.int().min(1).max(100_000).nullable() })
    .describe('How many equal elements the specimen had; null: not known'),
  signed
    .extend({ kind: z.literal('sensitivity'), factor: z.number().min(0.1).max(10) })
    .describe('How readily drops are taken for events; 1 is usual, 2 finds drops half as large'),
])

export const adjustmentsSchema = z.object({
  document: z.literal('tenterhook.adjustments'),
  version: z.literal(1),
  adjustments: z.array(adjustmentSchema).superRefine((list, context) => {
    const seen = new Map<string, number>()
    for (const [i, { id }] of list.entries()) {
      const first = seen.get(id)
      if (first === undefined) seen.set(id, i)
      else
        context.addIssue({
          code: 'custom',
          path: [i, 'id'],
          message: `“${id}” is already the id of adjustment ${first + 1}`,
        })
    }
  }),
})

export type Adjustment = z.infer<typeof adjustmentSchema>

/** Reads an adjustments document. `where` is its file name, for the problems. */
export function parseAdjustments(text: string, where: string): Outcome<Adjustment[]> {
  const parsed = parseDocument(text, adjustmentsSchema, { where, schemaFile: 'adjustments.json', placeOf })
  return parsed.ok ? fine(parsed.value.adjustments) : parsed
}

/** `adjustment 3, toS`: counted from 1, as a person does. */
function placeOf([list, index, ...rest]: readonly string[]): string {
  if (list !== 'adjustments' || index === undefined) return list ?? ''
  return [`adjustment ${Number(index) + 1}`, ...rest].join(', ')
}
