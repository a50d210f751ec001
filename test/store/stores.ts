import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'

/** Every engine that the suite runs over: a second one is a second row. */
export const ENGINES: readonly { name: string; open(folder: string): Promise<Store> }[] = [
  { name: 'sqlite', open: openAt },
]

export async function openAt(folder: string): Promise<Store> {
  const place = storePlace(folder, {})
  if (!place.ok) throw new Error(JSON.stringify(place.problems))
  return openStore(place.value)
}

export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-store-'))
  try {
    return await work(folder)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

export async function inStore<T>(
  engine: (typeof ENGINES)[number],
  work: (store: Store) => Promise<T>,
): Promise<T> {
  return inFolder(async folder => {
    const store = await engine.open(folder)
    try {
      return await work(store)
    } finally {
      await store.close()
    }
  })
}

/** The value of an outcome that must be good. */
export function good<T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T {
  if (!outcome.ok) throw new Error(`expected no problem: ${JSON.stringify(outcome.problems)}`)
  return outcome.value
}

/** The text of the problems of an outcome that must not be good. */
export function bad(outcome: { ok: boolean; problems?: readonly { where: string; what: string }[] }): string {
  if (outcome.ok) throw new Error('expected a problem')
  return (outcome.problems ?? []).map(problem => `${problem.where}: ${problem.what}`).join('\n')
}
