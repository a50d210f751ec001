import { type Problem, problemText } from '../core/problem.ts'
import type { ExitCode, Io } from './io.ts'
import { optionFor } from './optionFor.ts'

/** Tells every problem on standard error and gives back the exit code, so that a command can end with it. */
export function tell(io: Pick<Io, 'err'>, problems: readonly Problem[], code: ExitCode): ExitCode {
  for (const problem of problems) io.err(`tenterhook: ${toldText(problem)}\n`)
  return code
}

/** A problem as it is told here, with the option that settles it. */
export const toldText = (problem: Problem): string => `${problemText(problem)}${optionFor(problem.code)}`
