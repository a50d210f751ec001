import { isPractice } from '../../core/study.ts'
import type { Backend } from '../data/backend.ts'

const AT_ONCE = 1_000

/** How many recordings came after everything was last saved as one file. */
export async function unsavedCount(
  backend: Pick<Backend, 'recordings'>,
  lastSavedAt: () => Promise<string | null>,
): Promise<number> {
  const savedAt = await lastSavedAt()
  let count = 0
  let after: string | undefined
  for (;;) {
    const page = await backend.recordings.list({
      withSetAside: true,
      limit: AT_ONCE,
      ...(after === undefined ? {} : { after }),
    })
    // Newest first: behind the first that is in the file all are.
    const isNew = page.items.filter(({ addedAt }) => savedAt === null || addedAt > savedAt)
    // Practice need not be kept.
    count += isNew.filter(entry => !isPractice(entry)).length
    if (page.next === null || isNew.length < page.items.length) return count
    after = page.next
  }
}
