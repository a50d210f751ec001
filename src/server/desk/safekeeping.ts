import { bytesText } from '../../capture/session/room.ts'
import type { Captured } from '../../capture/types.ts'
import { faultText, fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import { StoreFault } from '../../store/fault.ts'
import type { RecordingEntry } from '../../store/types.ts'
import type { DeskStore } from './deskStore.ts'
import type { KeptIn, Unsaved } from './liveTypes.ts'
import { type ReadSpecimen, type StoredCaptured, storeCaptured, type TakeIn } from './storeCaptured.ts'

/** From the end of one attempt to the next. */
const TRY_EVERY_MS = 3_000

/** Where a recording that has ended is now. */
export interface Kept {
  readonly keptIn: KeptIn
  /** The journal, where it is not in the store. */
  readonly path: string | null
  readonly entry: RecordingEntry | null
  /** Of its specimen once it is in the store, else of this recording alone; why there is none. `null`: it was not made yet. */
  readonly reading: Outcome<Reading> | null
  /** Why it is not in the store, or what went wrong beside it. */
  readonly problems: readonly Problem[]
}

/**
 * Recordings that have ended and are not in the store: each is tried again every few seconds until it is, so that room on
 * the disk is all that it takes. Nothing is called kept that is not on a disk.
 */
export interface Safekeeping {
  /** Puts it into the store; where that fails, goes on trying. */
  take(captured: Captured): Promise<Kept>
  readonly unsaved: readonly Unsaved[]
  /** Tries all of them at once. */
  tryNow(): Promise<readonly Unsaved[]>
  /** Keeps the journal of one in another folder. */
  moveTo(recordingId: string, folder: string): Promise<Outcome<readonly Unsaved[]>>
  /** Its journal, whole, to be saved elsewhere. */
  journal(recordingId: string): Outcome<AsyncIterable<Uint8Array>>
  /** Fulfilled once none is left. */
  settled(): Promise<void>
  /** Tries no more. What is in memory alone is given up; gives those. */
  stop(): Promise<readonly Unsaved[]>
}

export interface SafekeepingOptions {
  readonly store: DeskStore
  readonly readSpecimen: ReadSpecimen
  /** Takes in the journals of recordings that were not made when they ended. */
  readonly takeIn?: TakeIn | undefined
  /** One is in the store that was not at first. */
  readonly onStored: (captured: Captured, kept: Kept) => void
  /** What is unsaved has changed. */
  readonly onChange: (unsaved: readonly Unsaved[]) => void
}

interface Waiting {
  readonly captured: Captured
  cause: Problem
}

export function safekeeping({
  store,
  readSpecimen,
  takeIn,
  onStored,
  onChange,
}: SafekeepingOptions): Safekeeping {
  const waiting = new Map<string, Waiting>()
  let timer: ReturnType<typeof setTimeout> | null = null
  let trying: Promise<void> | null = null
  let whenSettled: (() => void)[] = []

  const unsaved = (): Unsaved[] => [...waiting.values()].map(unsavedOf)
  const attempt = async (captured: Captured): Promise<Outcome<StoredCaptured>> => {
    try {
      // Its journal first: it needs less room than the store.
      await captured.keeping.tryNow()
      return await storeCaptured(store, captured, readSpecimen, takeIn)
    } catch (error) {
      return wrong(causeOf(captured, error))
    }
  }
  async function tryAll(): Promise<void> {
    for (const [id, one] of [...waiting]) {
      const stored = await attempt(one.captured)
      if (stored.ok) {
        waiting.delete(id)
        onStored(one.captured, keptInStore(stored.value))
      } else one.cause = stored.problems[0] ?? one.cause
    }
    onChange(unsaved())
    if (waiting.size === 0) {
      for (const tell of whenSettled) tell()
      whenSettled = []
    }
  }
  const tryNow = async (): Promise<readonly Unsaved[]> => {
    if (timer) clearTimeout(timer)
    timer = null
    trying ??= tryAll().finally(() => {
      trying = null
      schedule()
    })
    await trying
    return unsaved()
  }
  function schedule(): void {
    if (waiting.size > 0) timer ??= setTimeout(() => void tryNow(), TRY_EVERY_MS)
  }

  return {
    async take(captured) {
      const stored = await attempt(captured)
      if (stored.ok) return keptInStore(stored.value)
      const one: Waiting = { captured, cause: stored.problems[0] ?? causeOf(captured, null) }
      waiting.set(captured.id, one)
      onChange(unsaved())
      schedule()
      const { keptIn, path, problem } = unsavedOf(one)
      const reading = captured.recording === null ? null : captured.reading
      return { keptIn, path, entry: null, reading, problems: [problem, ...stored.problems.slice(1)] }
    },
    get unsaved() {
      return unsaved()
    },
    tryNow,
    async moveTo(recordingId, folder) {
      const one = waiting.get(recordingId)
      if (!one) return wrong(notWaiting(recordingId))
      const problem = await one.captured.keeping.moveTo(folder)
      if (problem) return wrong(problem)
      onChange(unsaved())
      return fine(unsaved())
    },
    journal(recordingId) {
      const one = waiting.get(recordingId)
      return one ? fine(one.captured.keeping.log()) : wrong(notWaiting(recordingId))
    },
    settled: () =>
      waiting.size === 0 ? Promise.resolve() : new Promise(resolve => whenSettled.push(resolve)),
    async stop() {
      if (timer) clearTimeout(timer)
      timer = null
      await trying
      if (timer) clearTimeout(timer)
      const left = unsaved()
      for (const { captured } of waiting.values()) await captured.keeping.leave()
      waiting.clear()
      return left
    },
  }
}

const keptInStore = ({ entry, reading, problems }: StoredCaptured): Kept => ({
  keptIn: 'store',
  path: null,
  entry,
  reading,
  problems,
})

/** Where a recording that is not in the store is, and why. */
function unsavedOf({ captured, cause }: Waiting): Unsaved {
  const { id, startedAt, about, samples, keeping } = captured
  const { heldBytes, path } = keeping
  const facts = {
    recordingId: id,
    startedAt,
    specimen: about.specimen,
    samples,
    heldBytes,
    path,
  }
  if (heldBytes > 0) {
    const { what, where } = keeping.trouble ?? cause
    return {
      ...facts,
      keptIn: 'memory',
      problem: {
        where,
        what: `${what} The end of this recording (${bytesText(heldBytes)}) is in memory alone: it is not kept yet.`,
        cure: 'Free some space: it is tried again every few seconds. Or keep it elsewhere. Leave Tenterhook running until then.',
      },
    }
  }
  return {
    ...facts,
    keptIn: 'journal',
    problem: {
      where: cause.where,
      what: `${cause.what} The recording is whole on the disk, in its journal ${path}.`,
      cure: `${cause.cure} It is tried again every few seconds, and by the next command.`,
    },
  }
}

function causeOf({ source }: Captured, error: unknown): Problem {
  if (error instanceof StoreFault) return error.problem
  return {
    where: source,
    what: `the recording could not be put into the store (${faultText(error)}).`,
    cure: 'Its journal stays until it is kept.',
  }
}

const notWaiting = (recordingId: string): Problem => ({
  where: `recording “${recordingId}”`,
  what: 'it does not wait to be stored.',
  cure: 'It may be in the store by now: look in the list.',
})
