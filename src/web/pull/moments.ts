/**
 * What each key does at each moment of a pull: the whole of it, written down. Nothing else in the app decides it.
 *
 * The key that goes on is Space, or whatever a foot switch types. With load on the specimen it never arms, zeroes or
 * ends anything: the row `pulling` (and `loaded`, before a recording) holds for that, whatever the capture calls it.
 */
export type Moment =
  /** The server does not answer. */
  | 'away'
  /** No line to a device is open. */
  | 'no-line'
  /** The line went away by itself and is tried again, with no recording in hand. */
  | 'line-lost'
  /** Nothing is left to pull. */
  | 'no-specimen'
  | 'ready'
  /** Not armed, and something pulls at the cell. */
  | 'loaded'
  /** Whether the specimen hangs free is being asked. */
  | 'asking-zero'
  | 'armed'
  /** A recording runs and nothing has pulled yet. */
  | 'slack'
  | 'pulling'
  | 'let-go'
  /** The recording is kept; what became of the specimen is asked. */
  | 'ended'

export const MOMENTS: readonly Moment[] = [
  'away',
  'no-line',
  'line-lost',
  'no-specimen',
  'ready',
  'loaded',
  'asking-zero',
  'armed',
  'slack',
  'pulling',
  'let-go',
  'ended',
]

export type Key =
  /** Space, or the foot switch. */
  | 'go'
  | 'escape'
  /** Escape, kept down. */
  | 'escape-held'
  | 'note'
  | 'zero'
  | 'turn'
  | 'turn-back'
  | 'speak'
  | 'redo'
  | 'spoil'
  | 'pull-on'

export const KEYS: readonly Key[] = [
  'go',
  'escape',
  'escape-held',
  'note',
  'zero',
  'turn',
  'turn-back',
  'speak',
  'redo',
  'spoil',
  'pull-on',
]

export type Act =
  | 'open-line'
  | 'arm'
  | 'disarm'
  | 'ask-zero'
  | 'take-zero'
  | 'leave-zero'
  | 'finish'
  | 'give-up'
  | 'note'
  | 'turn'
  | 'turn-back'
  | 'speak'
  | 'keep'
  | 'redo'
  | 'spoil'
  /** Another recording of the same specimen, joined to what there is. */
  | 'pull-on'
  /** Nothing is done; the force is said, and why. */
  | 'say-load'
  /** Nothing is done; that it takes a longer press is said. */
  | 'say-hold'
  | 'nothing'

type Row = Readonly<Partial<Record<Key, Act>>>

const TABLE: Readonly<Record<Moment, Row>> = {
  away: {},
  'no-line': { go: 'open-line' },
  'line-lost': {},
  'no-specimen': { zero: 'ask-zero', speak: 'speak' },
  ready: { go: 'arm', zero: 'ask-zero', speak: 'speak' },
  loaded: { go: 'say-load', zero: 'ask-zero', speak: 'speak' },
  'asking-zero': { go: 'take-zero', escape: 'leave-zero', 'escape-held': 'leave-zero', speak: 'speak' },
  armed: {
    go: 'nothing',
    escape: 'disarm',
    'escape-held': 'disarm',
    note: 'note',
    zero: 'ask-zero',
    turn: 'turn',
    'turn-back': 'turn-back',
    speak: 'speak',
  },
  slack: {
    go: 'nothing',
    escape: 'say-hold',
    'escape-held': 'give-up',
    note: 'note',
    zero: 'ask-zero',
    turn: 'turn',
    'turn-back': 'turn-back',
    speak: 'speak',
  },
  pulling: {
    go: 'say-load',
    escape: 'say-hold',
    'escape-held': 'give-up',
    note: 'note',
    zero: 'say-load',
    turn: 'turn',
    'turn-back': 'turn-back',
    speak: 'speak',
  },
  'let-go': {
    go: 'finish',
    escape: 'say-hold',
    'escape-held': 'give-up',
    note: 'note',
    zero: 'ask-zero',
    turn: 'turn',
    'turn-back': 'turn-back',
    speak: 'speak',
  },
  ended: { go: 'keep', speak: 'speak', redo: 'redo', spoil: 'spoil', 'pull-on': 'pull-on' },
}

/** What a key does at a moment. */
export const actOf = (moment: Moment, key: Key): Act => TABLE[moment][key] ?? 'nothing'

/** What there is to know, to tell which moment it is. */
export interface Situation {
  readonly isAway: boolean
  /** `null`: none is open. */
  readonly line: 'open' | 'lost' | 'closed' | null
  readonly phase: 'waiting' | 'armed' | 'recording' | 'rest' | 'finished' | 'given-up' | null
  readonly pulls: number
  readonly isPulling: boolean
  /** Whether the force stands clear of noise and zero, at this sample. */
  readonly isLoaded: boolean
  /** Zero has been asked for and not answered. */
  readonly isAskingZero: boolean
  /** What the last recording came to has not been answered yet. */
  readonly hasEnded: boolean
  readonly hasSpecimen: boolean
}

export function momentOf(now: Situation): Moment {
  if (now.isAway) return 'away'
  const isKeeping = now.phase === 'recording' || now.phase === 'rest'
  if (now.line === null || (now.line === 'closed' && !isKeeping)) return now.hasEnded ? 'ended' : 'no-line'
  // A recording goes on while its line is gone: what was seen last still holds, and it can be finished.
  if (isKeeping) {
    if (now.isPulling || now.isLoaded) return 'pulling'
    if (now.isAskingZero) return 'asking-zero'
    return now.phase === 'rest' || now.pulls > 0 ? 'let-go' : 'slack'
  }
  if (now.hasEnded) return 'ended'
  if (now.line === 'lost') return 'line-lost'
  if (now.isAskingZero) return 'asking-zero'
  if (now.phase === 'armed') return 'armed'
  if (!now.hasSpecimen) return 'no-specimen'
  return now.isLoaded ? 'loaded' : 'ready'
}
