import { faultText, type Problem } from '../../core/problem.ts'

/** What could not be done, for people: each problem with where, what and the cure. */
export class Trouble extends Error {
  override readonly name: string = 'Trouble'
  readonly problems: readonly Problem[]

  constructor(problems: readonly Problem[]) {
    super(problems.map(problem => `${problem.where}: ${problem.what}`).join(' '))
    this.problems = problems
  }
}

/** What was to be changed has been changed elsewhere since it was last seen here. */
export class Conflict extends Trouble {
  override readonly name = 'Conflict'
}

/** The server does not answer: switched off, or the network is gone. What was typed is still in the page. */
export class Unreachable extends Trouble {
  override readonly name = 'Unreachable'
}

/** The value, or its problems thrown: for code that runs under a query or a mutation. */
export function got<T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly Problem[] }): T {
  if (!outcome.ok) throw new Trouble(outcome.problems)
  return outcome.value
}

/** Any error as problems that can be shown. */
export const problemsOf = (error: unknown): readonly Problem[] =>
  error instanceof Trouble
    ? error.problems
    : [
        {
          where: 'Tenterhook',
          what: faultText(error),
          cure: 'Try again. If it comes back, reload the page: nothing that was kept is lost.',
        },
      ]
