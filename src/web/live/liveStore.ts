import type {
  Alarm,
  CaptureState,
  EndedRecording,
  LineRigFacts,
  LineState,
  LiveEvent,
  LiveFigures,
  LiveNote,
  LiveReading,
  Problem,
  RecordingPlan,
  Unsaved,
  ViewerMessage,
} from '../../server/apiTypes.ts'
import { type GrowingCurve, growingCurve } from './growingCurve.ts'
import { type LoadWatch, loadWatch } from './loadWatch.ts'

/** What changes seldom; another object each time that anything in it has changed. */
export interface LiveState {
  readonly server: 'joining' | 'here' | 'away'
  /** How often the server was lost and found again. */
  readonly returns: number
  /** How many snapshots have come: what was gathered under an earlier one may be of another line, unit or clock. */
  readonly snapshots: number
  /** Name of the line; `null`: none is open. */
  readonly line: string | null
  readonly lineIs: 'open' | 'lost' | 'closed' | null
  readonly rig: LineRigFacts | null
  readonly capture: CaptureState | null
  readonly plan: RecordingPlan | null
  readonly events: readonly LiveEvent[]
  readonly alarms: readonly Alarm[]
  readonly notes: readonly LiveNote[]
  /** Recordings that have ended and are not in the store. */
  readonly unsaved: readonly Unsaved[]
  /** Of the recording that runs, or has just ended. */
  readonly reading: LiveReading | null
  /** The recording that has just ended, once this page was told of it; `null` again as soon as the next begins. */
  readonly ended: EndedRecording | null
  /** Told only when the next had begun already: nothing that stands on the screen is about it any more. */
  readonly endedLate: EndedRecording | null
  /** Why the line has ended. */
  readonly closedBy: Problem | null
  /** Whether the force stands clear of zero and noise. */
  readonly isLoaded: boolean
  /** The unit that the line sends. */
  readonly logUnit: LiveFigures['unit']
}

/** What changes with every message: never copied. */
export interface LiveFrame {
  readonly figures: LiveFigures | null
  /** Indicated forces: draw them above `figures.zeroN`. */
  readonly curve: GrowingCurve
  /** How far the reading moves by itself to either side; `null` while it is not known. */
  readonly restlessN: number | null
}

export interface LiveStore {
  readonly state: LiveState
  readonly frame: LiveFrame
  take(message: ViewerMessage): void
  /** The server does not answer. */
  away(): void
  /** What the server says of its line when asked: the stream does not tell of plans. */
  line(line: LineState): void
  onState(listener: () => void): () => void
  /** Told of each message once it is taken. */
  onMessage(listener: (message: ViewerMessage) => void): () => void
}

const NOTHING: LiveState = {
  server: 'joining',
  returns: 0,
  snapshots: 0,
  line: null,
  lineIs: null,
  rig: null,
  capture: null,
  plan: null,
  events: [],
  alarms: [],
  notes: [],
  unsaved: [],
  reading: null,
  ended: null,
  endedLate: null,
  closedBy: null,
  isLoaded: false,
  logUnit: null,
}

/** While nothing is recorded only so much of the past is of use. */
const IDLE_S = 60
/** Below the threshold for so long, so that a hand that trembles does not make the words flicker. */
const FREE_S = 0.15
const MOST_NOTES = 200

/** The live stream gathered up: small things as a state that changes seldom, forces in arrays that only grow. */
export function liveStore(curve: GrowingCurve = growingCurve(), load: LoadWatch = loadWatch()): LiveStore {
  let state = NOTHING
  let figures: LiveFigures | null = null
  let lastOverS = Number.NaN
  let lastZeroN: number | null = null
  const stateListeners = new Set<() => void>()
  const messageListeners = new Set<(message: ViewerMessage) => void>()

  const change = (part: Partial<LiveState>): void => {
    state = { ...state, ...part }
    for (const listener of stateListeners) listener()
  }

  const takeSnapshot = (message: Extract<ViewerMessage, { kind: 'snapshot' }>): void => {
    const { line, rig, snapshot, reading, unsaved } = message
    curve.clear()
    load.clear()
    lastOverS = Number.NaN
    if (snapshot) {
      const { timeS, lowN, highN } = snapshot.curve
      curve.add(timeS, lowN, highN)
      load.add(timeS, highN)
    }
    figures = snapshot?.figures ?? null
    change({
      server: 'here',
      returns: state.returns + (state.server === 'away' ? 1 : 0),
      snapshots: state.snapshots + 1,
      line,
      rig,
      lineIs: snapshot?.line ?? null,
      capture: snapshot?.state ?? null,
      plan: snapshot?.plan ?? null,
      events: snapshot?.events.filter(({ kind }) => kind !== 'none') ?? [],
      alarms: snapshot?.alarms ?? [],
      notes: snapshot?.notes ?? [],
      unsaved,
      reading,
      // A line that is opened anew knows nothing of what was before.
      ended: line === state.line ? state.ended : null,
      closedBy: line === null ? state.closedBy : null,
      isLoaded: isLoadedNow(),
      logUnit: figures?.unit ?? null,
    })
  }

  const isKeeping = (): boolean => state.capture?.phase === 'recording' || state.capture?.phase === 'rest'

  function isLoadedNow(): boolean {
    if (figures === null || figures.forceN === null) return false
    // Before the first zero nobody knows what the reading stands above.
    if (figures.zeroFrom === 'none') return false
    const fromN = load.loadedFromN(isKeepingState(state.capture) ? figures.peakN : null)
    if (fromN === null) return false
    if (figures.forceN > fromN) {
      lastOverS = figures.atS
      lastZeroN = figures.zeroN
      return true
    }
    // A zero that was taken tells at once that nothing pulls.
    const isOtherZero = figures.zeroN !== lastZeroN
    lastZeroN = figures.zeroN
    return state.isLoaded && !isOtherZero && figures.atS - lastOverS < FREE_S
  }

  const takeState = (next: CaptureState): void => {
    const before = state.capture
    const begins =
      (next.phase === 'armed' && before?.phase !== 'armed') ||
      (isKeepingState(next) && !isKeepingState(before) && before?.phase !== 'armed')
    if (begins) {
      const fromS = next.sinceS - (state.plan?.keepBeforeS ?? 5)
      curve.forget(fromS)
      change({
        capture: next,
        events: state.events.filter(({ atS }) => atS >= fromS),
        notes: state.notes.filter(({ atS }) => atS >= fromS),
        reading: null,
        ended: null,
      })
    } else change({ capture: next })
  }

  /** Storing takes its time: the next recording may have begun, even ended, before the last one is told of. */
  const isOfNow = ({ specimenId }: EndedRecording): boolean => {
    const { capture, plan } = state
    if (capture?.phase === 'armed' || isKeepingState(capture)) return false
    return specimenId === null || plan?.specimenId == null || specimenId === plan.specimenId
  }

  const take = (message: ViewerMessage): void => {
    switch (message.kind) {
      case 'snapshot':
        takeSnapshot(message)
        break
      case 'samples':
        curve.add(message.timeS, message.forceN)
        load.add(message.timeS, message.forceN)
        if (
          !isKeeping() &&
          state.capture?.phase !== 'finished' &&
          (curve.firstS ?? 0) < (curve.lastS ?? 0) - 2 * IDLE_S
        )
          curve.forget((curve.lastS ?? 0) - IDLE_S)
        break
      case 'figures': {
        figures = message.figures
        const isLoaded = isLoadedNow()
        const { unit: logUnit } = figures
        if (isLoaded !== state.isLoaded || logUnit !== state.logUnit) change({ isLoaded, logUnit })
        break
      }
      case 'state':
        takeState(message.state)
        break
      case 'event':
        change({ events: withEvent(state.events, message.event) })
        break
      case 'alarm':
        change({
          alarms: [
            ...state.alarms.filter(({ code }) => code !== message.alarm.code),
            ...(message.alarm.over ? [] : [message.alarm]),
          ],
          ...(message.alarm.code === 'line-lost' && { lineIs: message.alarm.over ? 'open' : 'lost' }),
        })
        break
      case 'note':
        change({
          notes: [...state.notes, { atS: message.atS, of: message.of, text: message.text }].slice(
            -MOST_NOTES,
          ),
        })
        break
      case 'reading': {
        const { kind: _, ...reading } = message
        change({ reading })
        break
      }
      case 'stored': {
        const { kind: _, ...ended } = message
        change(isOfNow(ended) ? { ended } : { endedLate: ended })
        break
      }
      case 'unsaved':
        change({ unsaved: message.unsaved })
        break
      case 'closed':
        change({ lineIs: 'closed', closedBy: message.problem })
        break
      case 'beat':
        break
    }
    for (const listener of messageListeners) listener(message)
  }

  return {
    get state() {
      return state
    },
    frame: {
      get figures() {
        return figures
      },
      curve,
      get restlessN() {
        return load.restlessN()
      },
    },
    take,
    away() {
      if (state.server !== 'away') change({ server: 'away' })
    },
    line({ plan }) {
      change({ plan })
    },
    onState(listener) {
      stateListeners.add(listener)
      return () => stateListeners.delete(listener)
    },
    onMessage(listener) {
      messageListeners.add(listener)
      return () => messageListeners.delete(listener)
    },
  }
}

export const isKeepingState = (capture: CaptureState | null): boolean =>
  capture?.phase === 'recording' || capture?.phase === 'rest'

/** A fall is told again under its number when its kind is known; `none`: it was none. */
function withEvent(events: readonly LiveEvent[], event: LiveEvent): readonly LiveEvent[] {
  const others = events.filter(({ id }) => id !== event.id)
  return event.kind === 'none' ? others : [...others, event].sort((a, b) => a.atS - b.atS)
}
