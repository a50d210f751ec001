import { StoreFault } from '../fault.ts'
import type { StorePlace } from '../place.ts'
import type { Engine } from './engine.ts'

/** The engine of a place; its code is loaded only here. */
export async function openEngine(place: StorePlace): Promise<Engine> {
  const { openSqlite } = await import('./sqlite/open.ts')
  const { sqliteProblem } = await import('./sqlite/problems.ts')
  try {
    return openSqlite(place.file)
  } catch (error) {
    const problem = sqliteProblem(place.file, error)
    throw problem ? new StoreFault(problem, error) : error
  }
}

/** A database of its own, for a while, that needs not outlive a power loss. */
export async function openStage(file: string): Promise<Engine> {
  const { openSqlite } = await import('./sqlite/open.ts')
  return openSqlite(file)
}
