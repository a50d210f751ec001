import type { Problem } from '../core/problem.ts'

/**
 * The store cannot be reached or trusted: disk full, file locked, damaged, read-only. It can meet any call,
 * so it is thrown, and caught in one place by each command and by the server, which show its problem. What a
 * person can get wrong (an unknown id, a name taken) comes back as an `Outcome` instead.
 */
export class StoreFault extends Error {
  readonly problem: Problem

  constructor(problem: Problem, cause?: unknown) {
    super(`${problem.where}: ${problem.what}`, { cause })
    this.name = 'StoreFault'
    this.problem = problem
  }
}
