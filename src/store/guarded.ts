import type { Engine } from './engine/engine.ts'
import { StoreFault } from './fault.ts'

/** An error of the database as a `StoreFault`; anything else as it was. */
export function asFault(engine: Pick<Engine, 'problemOf'>, error: unknown): unknown {
  if (error instanceof StoreFault) return error
  const problem = engine.problemOf(error)
  return problem ? new StoreFault(problem, error) : error
}

type Call = (...args: unknown[]) => unknown

/** The same groups of calls, each turning the database's errors into a `StoreFault`. */
export function guarded<T extends object>(engine: Pick<Engine, 'problemOf'>, calls: T): T {
  const wrap = (value: unknown): unknown => {
    if (typeof value === 'function') return guardedCall(engine, value as Call)
    if (typeof value === 'object' && value !== null)
      return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, wrap(inner)]))
    return value
  }
  return wrap(calls) as T
}

const guardedCall =
  (engine: Pick<Engine, 'problemOf'>, call: Call): Call =>
  (...args) => {
    const result = call(...args)
    if (result instanceof Promise)
      return result.catch((error: unknown) => {
        throw asFault(engine, error)
      })
    if (isStream(result)) return guardedStream(engine, result)
    return result
  }

const isStream = (value: unknown): value is AsyncIterable<unknown> =>
  typeof value === 'object' && value !== null && Symbol.asyncIterator in value

/** A stream whose errors of the database are told as a `StoreFault`. */
export async function* guardedStream<T>(
  engine: Pick<Engine, 'problemOf'>,
  stream: AsyncIterable<T>,
): AsyncGenerator<T> {
  try {
    yield* stream
  } catch (error) {
    throw asFault(engine, error)
  }
}
