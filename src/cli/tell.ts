import { type Problem, problemText } from '../core/problem.ts'
import type { ExitCode, Io } from './io.ts'

/** Tells every problem on standard error and gives back the exit code, so that a command can end with it. */
export function tell(io: Pick<Io, 'err'>, problems: readonly Problem[], code: ExitCode): ExitCode {
  for (const problem of problems) io.err(`tenterhook: ${problemText(problem)}\n`)
  return code
}
