import type { Computer } from '../../capture/computer.ts'
import { discardJournal, journalsIn, putAside } from '../../capture/journal/recover.ts'
import { NOTHING_IN_JOURNAL } from '../../capture/problems.ts'
import type { Problem } from '../../core/problem.ts'
import { StoreFault } from '../../store/fault.ts'
import type { RecordingEntry } from '../../store/types.ts'
import { notRemoved, type TakeIn } from './storeCaptured.ts'

/** What became of journals that were left behind. */
export interface TakenIn {
  readonly recovered: readonly RecordingEntry[]
  readonly problems: readonly Problem[]
  /** Journals that a running program writes. */
  readonly inUse: readonly string[]
}

/**
 * Takes every journal in, that a stopped program or window left behind in a folder, one after the other. One that holds
 * nothing to be taken in stays, out of the way.
 */
export async function takeLeftBehind(journals: string, computer: Computer, takeIn: TakeIn): Promise<TakenIn> {
  const { files } = computer
  const there = await journalsIn(journals, computer)
  const recovered: RecordingEntry[] = []
  const problems = [...there.problems]
  for (const path of there.left) {
    try {
      const stored = await takeIn(path, 'recovered')
      problems.push(...(stored.ok ? stored.value.problems : stored.problems))
      if (stored.ok) {
        recovered.push(stored.value.entry)
        await discardJournal(path, files).catch((error: unknown) => problems.push(notRemoved(path, error)))
      } else if (stored.problems.some(({ code }) => code === NOTHING_IN_JOURNAL)) await putAside(path, files)
    } catch (error) {
      if (!(error instanceof StoreFault)) throw error
      problems.push(leftInJournal(error.problem, path))
    }
  }
  return { recovered, problems, inUse: there.inUse }
}

const leftInJournal = ({ where, what, cure }: Problem, path: string): Problem => ({
  where,
  what: `${what} A recording waits to be taken in; it is whole in its journal ${path}.`,
  cure,
})
