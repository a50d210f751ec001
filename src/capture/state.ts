/**
 * The capture as a state machine: pure, no hardware, no clock of its own.
 *
 * | phase      | arm   | start     | loaded          | free for 0.25 s | zero | finish   | give up  | rest long enough |
 * |------------|-------|-----------|-----------------|-----------------|------|----------|----------|------------------|
 * | waiting    | armed | recording | –               | –               | kept | refused  | refused  | –                |
 * | armed      | armed | recording | recording       | –               | kept | refused  | given-up | –                |
 * | recording  | –     | –         | recording       | rest (¹)        | kept | finished | given-up | –                |
 * | rest       | –     | –         | recording (²)   | rest            | kept | finished | given-up | finished (³)     |
 * | finished   | armed | recording | –               | –               | kept | refused  | refused  | –                |
 * | given-up   | armed | recording | –               | –               | kept | refused  | refused  | –                |
 *
 * `–`: nothing changes (a command is refused). Samples are kept in `recording` and in `rest` alike.
 * ¹ Only after a loading that lasted long enough to be a pull: the first break never ends a recording, and a knock is
 *   no pull. ² Once the new loading has lasted as long. ³ Only if the plan asks for it, and never before the last
 *   pull that the plan expects. `waiting` follows `armed` when the operator disarms.
 */
type Phase = 'waiting' | 'armed' | 'recording' | 'rest' | 'finished' | 'given-up'

export interface CaptureState {
  readonly phase: Phase
  /** When the phase began, on the session's clock. */
  readonly sinceS: number
  /** Loadings of this recording that lasted long enough to count, the one in hand with them. */
  readonly pulls: number
  /** Whether a pull is in hand. */
  readonly pulling: boolean
  readonly startedBy: 'hand' | 'force' | null
  readonly endedBy: 'hand' | 'rest' | null
  /** Why it was given up. */
  readonly reason: string | null
  /** When the force last rose over the threshold, or last fell under it; `null`: it did not. */
  readonly overSinceS: number | null
  readonly freeSinceS: number | null
}

/** What the machine must know of the plan. */
export interface EndRule {
  readonly pullsExpected: number
  readonly finishAfterRestS: number | null
}

export type CaptureEvent =
  | { readonly kind: 'arm'; readonly atS: number }
  | { readonly kind: 'disarm'; readonly atS: number }
  | { readonly kind: 'start'; readonly atS: number }
  | { readonly kind: 'finish'; readonly atS: number }
  | { readonly kind: 'give-up'; readonly atS: number; readonly reason: string }
  /** One sample: whether its force stands over the threshold. */
  | { readonly kind: 'sample'; readonly atS: number; readonly over: boolean }

export const WAITING: CaptureState = {
  phase: 'waiting',
  sinceS: 0,
  pulls: 0,
  pulling: false,
  startedBy: null,
  endedBy: null,
  reason: null,
  overSinceS: null,
  freeSinceS: null,
}

/**
 * A loading shorter than this is a knock or a hand on the grip (the meaning of a pull, samples/score.mjs).
 */
const PULL_S = 0.5
/** So long under the threshold ends a pull. */
const FREE_S = 0.25

export const isKeeping = ({ phase }: CaptureState): boolean => phase === 'recording' || phase === 'rest'

/** The state after an event; the same object where nothing changes or the event does not fit the phase. */
export function nextState(state: CaptureState, event: CaptureEvent, rule: EndRule): CaptureState {
  const { atS } = event
  switch (event.kind) {
    case 'arm':
      return isKeeping(state) ? state : { ...WAITING, phase: 'armed', sinceS: atS }
    case 'disarm':
      return state.phase === 'armed' ? { ...WAITING, sinceS: atS } : state
    case 'start':
      return isKeeping(state) ? state : { ...WAITING, phase: 'recording', sinceS: atS, startedBy: 'hand' }
    case 'finish':
      return isKeeping(state) ? ended(state, atS, 'hand') : state
    case 'give-up':
      return isKeeping(state) || state.phase === 'armed'
        ? { ...state, phase: 'given-up', sinceS: atS, pulling: false, endedBy: 'hand', reason: event.reason }
        : state
    case 'sample':
      return sampled(state, atS, event.over, rule)
  }
}

const ended = (state: CaptureState, atS: number, endedBy: 'hand' | 'rest'): CaptureState => ({
  ...state,
  phase: 'finished',
  sinceS: atS,
  pulling: false,
  endedBy,
})

function sampled(state: CaptureState, atS: number, over: boolean, rule: EndRule): CaptureState {
  if (state.phase === 'armed') return sampledArmed(state, atS, over)
  if (!isKeeping(state)) return state
  if (over) {
    const overSinceS = state.overSinceS ?? atS
    if (!state.pulling && atS - overSinceS > PULL_S) {
      const sinceS = state.phase === 'rest' ? atS : state.sinceS
      return {
        ...state,
        phase: 'recording',
        sinceS,
        pulls: state.pulls + 1,
        pulling: true,
        overSinceS,
        freeSinceS: null,
      }
    }
    if (state.overSinceS !== null && state.freeSinceS === null) return state
    return { ...state, overSinceS, freeSinceS: null }
  }
  const freeSinceS = state.freeSinceS ?? atS
  if (atS - freeSinceS > FREE_S) {
    if (state.pulling) {
      return { ...state, phase: 'rest', sinceS: freeSinceS, pulling: false, overSinceS: null, freeSinceS }
    }
    if (state.phase === 'rest' && isOver(state, atS, rule)) return ended(state, atS, 'rest')
    if (state.overSinceS !== null) return { ...state, overSinceS: null, freeSinceS }
  }
  return state.freeSinceS === null ? { ...state, freeSinceS } : state
}

/**
 * Two samples in a row over the threshold start it: one alone may be a glitch, and samples from before are
 * kept.
 */
function sampledArmed(state: CaptureState, atS: number, over: boolean): CaptureState {
  if (!over) return state.overSinceS === null ? state : { ...state, overSinceS: null }
  if (state.overSinceS === null) return { ...state, overSinceS: atS }
  return { ...state, phase: 'recording', sinceS: atS, startedBy: 'force' }
}

const isOver = (state: CaptureState, atS: number, rule: EndRule): boolean =>
  rule.finishAfterRestS !== null &&
  state.pulls >= rule.pullsExpected &&
  state.overSinceS === null &&
  atS - state.sinceS >= rule.finishAfterRestS
