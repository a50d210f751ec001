import { createContext, type ReactNode, useContext } from 'react'
import type { Backend } from '../data/backend.ts'
import type { Engine } from '../engine/types.ts'
import type { LineHost } from '../live/lineHost.ts'

/** What every room works with: where studies are kept, and the engine that reads them. */
export interface Bench {
  readonly backend: Backend
  readonly engine: Engine
  /** Who has the line to the rig. */
  readonly line: LineHost
  /** Starts a thread that makes what is taken away from a study: a worker that serves `Telling`. */
  readonly openTelling: () => Worker
}

const BenchContext = createContext<Bench | null>(null)

export const BenchProvider = ({ bench, children }: { bench: Bench; children: ReactNode }) => (
  <BenchContext value={bench}>{children}</BenchContext>
)

export function useBench(): Bench {
  const bench = useContext(BenchContext)
  if (!bench) throw new Error('useBench was called outside BenchProvider')
  return bench
}
