import type { EndedRecording, Reading } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import type { LiveState } from '../live/liveStore.ts'

/** A recording that was finished, about which the person has not yet said what became of it. */
export interface Unanswered {
  /** Tells it from any other, also after the page was opened anew. */
  readonly key: string
  /** `null` where the page was not there when it ended. */
  readonly recordingId: string | null
  readonly specimenId: string | null
  readonly reading: Reading | null
  /** Whether the reading is of this recording alone, not of all of its specimen. */
  readonly isAlone: boolean
  /** Whether it is known to be on a disk. */
  readonly isKept: boolean
  readonly problems: EndedRecording['problems']
}

/** How many recordings of a specimen count beside the one in hand. */
export const recordingsBefore = (
  { recordings }: Pick<OpenStudy, 'recordings'>,
  specimenId: string | null,
  inHandId: string | null,
): number =>
  recordings.filter(
    ({ id, specimen, setAside }) => specimen?.id === specimenId && setAside === null && id !== inHandId,
  ).length

/** What is to be answered; `null`: nothing, or it was answered under its key. */
export function unanswered(
  live: Pick<LiveState, 'capture' | 'plan' | 'line' | 'ended' | 'reading'>,
  answeredKey: string | null,
): Unanswered | null {
  const { capture, plan, line, ended, reading } = live
  if (capture?.phase !== 'finished') return null
  const specimenId = ended?.specimenId ?? plan?.specimenId ?? null
  const key = `${line} ${capture.sinceS} ${plan?.specimenId ?? ''}`
  if (key === answeredKey) return null
  return {
    key,
    recordingId: ended?.recordingId ?? null,
    specimenId,
    reading: ended?.reading ?? reading?.reading ?? null,
    isAlone: ended === null || ended.keptIn !== 'store',
    isKept: ended !== null && ended.keptIn !== 'memory',
    problems: ended?.problems ?? [],
  }
}
