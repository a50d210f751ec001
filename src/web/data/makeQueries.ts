import { QueryClient } from '@tanstack/react-query'
import { Unreachable } from './trouble.ts'

/** A server that is away is asked again after so long. */
const AGAIN_MS = 2000

/**
 * What is asked of the backend: kept while it is on a screen, and asked again after each change. A server that does not
 * answer is asked until it does; what it refuses is refused at once.
 */
export const makeQueries = (): QueryClient =>
  new QueryClient({
    defaultOptions: {
      queries: {
        networkMode: 'always',
        staleTime: 10_000,
        retry: (_count, error) => error instanceof Unreachable,
        retryDelay: AGAIN_MS,
      },
      // A change is never made twice: the person sees that it failed, and what was typed is still there.
      mutations: { networkMode: 'always', retry: false },
    },
  })
