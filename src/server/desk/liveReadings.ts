import type { Session } from '../../capture/session/public.ts'
import type { LiveMessage } from '../../capture/types.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { HeavyReads } from './heavyReadTypes.ts'
import type { LiveReading } from './liveTypes.ts'

/** The zero is better known once the rest has lasted. */
const AGAIN_AFTER_MS = 1_500
/**
 * Reading takes a core of the computer that also captures and shows: after one that took long, reading again waits so
 * many times as long, and is left out where the next pull begins before.
 */
const AGAIN_AFTER_TIMES = 5
/** A longer recording is read once it has ended: it would be read again and again. */
const MOST_SAMPLES = 500_000

export interface LiveReadings {
  /** Looks at what the session tells: a pull that has ended is read at once, and again after some rest. */
  take(message: LiveMessage): void
  now(): Promise<Outcome<LiveReading>>
  /** The last of the recording that runs, or ran last. */
  readonly last: LiveReading | null
  stop(): void
}

/** Reads the recording that runs over a session whenever a pull of it has ended. */
export function liveReadings(
  session: Session,
  readJournal: HeavyReads['readJournal'],
  tell: (reading: LiveReading) => void,
): LiveReadings {
  let last: LiveReading | null = null
  let wasPulling = false
  let timer: ReturnType<typeof setTimeout> | null = null
  let isBusy = false
  /** How long the last reading took. */
  let tookMs = 0
  /** Counts recordings: what was asked of one is not told of the next. */
  let recording = 0

  const now = async (): Promise<Outcome<LiveReading>> => {
    const { state, figures } = session.snapshot()
    if (figures.samples > MOST_SAMPLES)
      return wrong({
        where: session.source.name,
        what: `the recording has ${figures.samples} samples, too many to be read while it runs.`,
        cure: 'Finish it; it is read then.',
      })
    const soFar = await session.soFar()
    if (!soFar.ok) return soFar
    const read = await readJournal(soFar.value.journal)
    if (!read.ok) return read
    const { reading, endS } = read.value
    const { lastSampleS } = soFar.value
    const toLiveS = lastSampleS - (endS ?? lastSampleS)
    return fine({
      pulls: state.pulls,
      upToS: (endS ?? 0) + toLiveS,
      toLiveS,
      reading: reading.ok ? reading.value : null,
      problems: reading.ok ? [] : reading.problems,
    })
  }
  const readAndTell = async (): Promise<void> => {
    if (isBusy) return
    isBusy = true
    const asked = recording
    const begunMs = performance.now()
    try {
      const read = await now()
      tookMs = performance.now() - begunMs
      if (!read.ok || asked !== recording) return
      last = read.value
      tell(read.value)
    } finally {
      isBusy = false
    }
  }
  const stop = (): void => {
    if (timer !== null) clearTimeout(timer)
    timer = null
  }
  return {
    take(message) {
      if (message.kind !== 'state') return
      const { state } = message
      if (state.phase === 'armed' || (state.phase === 'recording' && state.pulls === 0)) {
        last = null
        tookMs = 0
        recording++
      }
      if (state.phase === 'rest' && wasPulling) {
        void readAndTell()
        stop()
        timer = setTimeout(() => void readAndTell(), Math.max(AGAIN_AFTER_MS, AGAIN_AFTER_TIMES * tookMs))
      } else if (state.phase !== 'rest') stop()
      wasPulling = state.pulling
    },
    now,
    get last() {
      return last
    },
    stop,
  }
}
