import { printable } from '../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import { openAdjustments } from './sideFiles.ts'

/** A file of adjustments, and the specimen that it is for; `null`: the only one. */
export interface AdjustFlag {
  readonly specimen: string | null
  readonly path: string
}

/** Flags and description of the option, for every command that opens the logs of several specimens. */
export const ADJUST_OPTION = [
  '--adjust <[specimen=]file>',
  'adjustments to replay on the reading of this specimen, or of the only one; may be given again',
] as const

/** `paste-3.json`, or `paste 3=paste-3.json` where there are several specimens. */
export function adjustFlag(text: string, before: readonly AdjustFlag[]): AdjustFlag[] {
  const at = text.indexOf('=')
  const flag =
    at < 1
      ? { specimen: null, path: text }
      : { specimen: text.slice(0, at).trim(), path: text.slice(at + 1).trim() }
  return [...before, flag]
}

/**
 * The adjustments of each specimen, in the order of their names; several files for one are joined. Problems: a file
 * that is none, a specimen that is not there, a file that may be for several.
 */
export async function openAdjustFlags(
  flags: readonly AdjustFlag[],
  names: readonly string[],
): Promise<Outcome<Adjustment[][]>> {
  const lists: Adjustment[][] = names.map(() => [])
  const problems: Problem[] = []
  for (const { specimen, path } of flags) {
    const fitting = names.flatMap((name, i) => (specimen === null || name === specimen ? [i] : []))
    const opened = fitting.length === 1 ? await openAdjustments(path) : wrong(notOne(specimen, names))
    if (opened.ok) lists[fitting[0]!]!.push(...opened.value)
    else problems.push(...opened.problems)
  }
  return problems.length > 0 ? wrong(...problems) : fine(lists)
}

function notOne(specimen: string | null, names: readonly string[]): Problem {
  const known = names.slice(0, 12).map(name => `“${printable(name, 30)}”`)
  const cure = `The logs given are of ${known.join(', ')}${names.length > 12 ? ' …' : ''}.`
  if (names.length === 0)
    return {
      where: '--adjust',
      what: 'no log is given to read with it.',
      cure: 'Give the logs, not their readings.',
    }
  if (specimen === null)
    return {
      where: '--adjust',
      what: `which of ${names.length} specimens it is for is not said.`,
      cure: `Give it as SPECIMEN=FILE. ${cure}`,
    }
  const several = names.includes(specimen)
  return {
    where: '--adjust',
    what: `there ${several ? 'are several specimens' : 'is no specimen'} “${printable(specimen)}”.`,
    cure: several ? 'Give their logs one at a time.' : cure,
  }
}
