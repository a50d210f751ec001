import { z } from 'zod'
import { parseDocument } from '../parseDocument.ts'
import { fine, type Outcome, type Problem, wrong } from '../problem.ts'

/** One daily check with a known mass: a line of the rig's file of checks. */
export const checkSchema = z.object({
  document: z.literal('tenterhook.check'),
  version: z.literal(1),
  at: z.iso.datetime({ offset: true, local: true }),
  appliedN: z.number().positive(),
  appliedStandardN: z.number().nonnegative(),
  indicatedN: z.number().describe('With the mass less without it, by the calibration in force'),
  indicatedStandardN: z.number().nonnegative(),
  zeroN: z
    .number()
    .nullable()
    .describe(
      'Reading of the empty hook by the calibration in force; null where the rig is zeroed by its indicator',
    ),
  calibration: z.iso.date().nullable().describe('Date of the calibration in force'),
  verdict: z.enum(['within', 'out']),
  findings: z.array(z.object({ code: z.string(), text: z.string() })),
})

export type Check = z.infer<typeof checkSchema>

/**
 * The checks of a file of JSON lines; lines that begin with # are remarks. A last line cut short by a power loss is left out and told; any other fault
 * is a problem, so that no check is passed over unseen.
 */
export function parseChecks(text: string, where: string): Outcome<{ checks: Check[]; cut: boolean }> {
  const lines = text.split('\n')
  const whole = lines.at(-1) === ''
  const checks: Check[] = []
  const problems: Problem[] = []
  let cut = false
  lines.forEach((line, i) => {
    if (line.trim() === '' || line.startsWith('#')) return
    const parsed = parseDocument(line, checkSchema, {
      where: `${where}, line ${i + 1}`,
      schemaFile: 'check.json',
    })
    if (parsed.ok) checks.push(parsed.value)
    else if (i === lines.length - 1 && !whole) cut = true
    else problems.push(...parsed.problems)
  })
  return problems.length > 0 ? wrong(...problems) : fine({ checks, cut })
}

/** The checks among documents as they were kept, the oldest first; what is none is passed over. */
export const checksIn = (documents: readonly unknown[]): Check[] =>
  documents
    .flatMap(document => {
      const parsed = checkSchema.safeParse(document)
      return parsed.success ? [parsed.data] : []
    })
    .sort((a, b) => (a.at < b.at ? -1 : 1))
