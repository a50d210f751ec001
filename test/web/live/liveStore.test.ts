import { expect, test } from 'vitest'
import type { CaptureState, LiveFigures, ViewerMessage } from '../../../src/server/apiTypes.ts'
import { liveStore } from '../../../src/web/live/liveStore.ts'

const capture = (part: Partial<CaptureState> = {}): CaptureState => ({
  phase: 'waiting',
  sinceS: 0,
  pulls: 0,
  pulling: false,
  startedBy: null,
  endedBy: null,
  reason: null,
  overSinceS: null,
  freeSinceS: null,
  ...part,
})
const figures = (part: Partial<LiveFigures> = {}): LiveFigures => ({
  atS: 0,
  forceN: 0,
  peakN: null,
  pullPeakN: null,
  rateNPerS: null,
  shareOfCapacity: null,
  zeroN: 0,
  zeroFrom: 'rest',
  unit: 'N',
  forceIn: 'N',
  extensionMm: null,
  travelMm: null,
  turns: null,
  shareOfStroke: null,
  channels: [],
  sampleRateHz: 80,
  samples: 0,
  troubles: { lost: 0, repeated: 0, outOfOrder: 0, garbled: 0, resets: 0, reopened: 0 },
  ...part,
})
const snapshot = (part: Partial<Extract<ViewerMessage, { kind: 'snapshot' }>> = {}): ViewerMessage => ({
  kind: 'snapshot',
  line: 'pretend rig',
  rig: null,
  reading: null,
  unsaved: [],
  snapshot: {
    line: 'open',
    state: capture(),
    plan: null,
    figures: figures(),
    events: [],
    alarms: [],
    notes: [],
    curve: { timeS: [], lowN: [], highN: [] },
    recordingId: null,
  },
  ...part,
})
/** Half seconds of rest at 100 a second, in steps of 0.01 N about a level. */
const rest = (fromS: number, toS: number, level = 0): ViewerMessage => {
  const timeS = Array.from({ length: Math.round((toS - fromS) * 100) }, (_, i) => fromS + i / 100)
  return { kind: 'samples', timeS, forceN: timeS.map((_, i) => level + 0.01 * (i % 3)) }
}

test('a page that lost the server begins again with what the snapshot says, and knows that it was away', () => {
  const live = liveStore()
  live.take(snapshot())
  live.take(rest(0, 1))
  live.take({ kind: 'event', event: event(1, 'drop') })
  live.away()
  expect(live.state.server).toBe('away')
  live.take(snapshot())
  expect(live.state).toMatchObject({ server: 'here', returns: 1, snapshots: 2, events: [] })
  expect(live.frame.curve.length).toBe(0)
})

const event = (id: number, kind: 'drop' | 'break' | 'none') => ({
  id,
  kind,
  settled: kind !== 'drop',
  atS: id,
  beforeN: 5,
  afterN: 1,
  dropN: 4,
  confidence: 0.5,
})

test('a fall is one event under its number, and none where it was none', () => {
  const live = liveStore()
  live.take(snapshot())
  live.take({ kind: 'event', event: event(1, 'drop') })
  live.take({ kind: 'event', event: event(2, 'drop') })
  live.take({ kind: 'event', event: event(1, 'break') })
  live.take({ kind: 'event', event: event(2, 'none') })
  expect(live.state.events).toEqual([event(1, 'break')])
})

test('load is force clear of noise and step, and holds a moment after it is gone', () => {
  const live = liveStore()
  live.take(snapshot())
  live.take(rest(0, 2))
  const say = (atS: number, forceN: number, more = {}) =>
    live.take({ kind: 'figures', figures: figures({ atS, forceN, ...more }) })
  say(2, 0.02)
  expect(live.state.isLoaded).toBe(false)
  say(2.1, 1)
  expect(live.state.isLoaded).toBe(true)
  say(2.2, 0)
  expect(live.state.isLoaded).toBe(true)
  say(2.4, 0)
  expect(live.state.isLoaded).toBe(false)
  say(2.45, 8)
  expect(live.state.isLoaded).toBe(true)
  say(2.45, 0, { zeroN: 8 })
  expect(live.state.isLoaded).toBe(false)
  say(2.5, 40, { zeroFrom: 'none' })
  expect(live.state.isLoaded).toBe(false)
})

test('arming drops what was before the kept seconds; the recording that starts by itself goes on from there', () => {
  const live = liveStore()
  live.take(snapshot())
  live.take(rest(0, 20))
  live.take({ kind: 'state', state: capture({ phase: 'armed', sinceS: 20 }) })
  expect(live.frame.curve.firstS).toBeCloseTo(15, 1)
  live.take(rest(20, 30))
  live.take({ kind: 'state', state: capture({ phase: 'recording', sinceS: 30, startedBy: 'force' }) })
  expect(live.frame.curve.firstS).toBeCloseTo(15, 1)
})

test('an alarm stands until it is taken back; a lost line is lost until it is back', () => {
  const live = liveStore()
  live.take(snapshot())
  const alarm = {
    code: 'line-lost' as const,
    where: 'x',
    what: 'y',
    cure: 'z',
    atS: 1,
    over: false,
    renewed: false,
  }
  live.take({ kind: 'alarm', alarm })
  expect(live.state).toMatchObject({ lineIs: 'lost', alarms: [alarm] })
  live.take({ kind: 'alarm', alarm: { ...alarm, over: true } })
  expect(live.state).toMatchObject({ lineIs: 'open', alarms: [] })
})

test('a recording that is told of only after the next began is never taken for that one', () => {
  const store = liveStore()
  const stored = (recordingId: string, specimenId: string | null): ViewerMessage => ({
    kind: 'stored',
    recordingId,
    specimenId,
    how: 'finished',
    reading: null,
    keptIn: 'store',
    problems: [],
  })
  const state = (part: Partial<CaptureState>): ViewerMessage => ({ kind: 'state', state: capture(part) })
  store.take(snapshot())
  store.take(state({ phase: 'recording', sinceS: 1 }))
  store.take(state({ phase: 'finished', sinceS: 9, pulls: 1 }))
  store.take(state({ phase: 'armed', sinceS: 10 }))
  store.take(stored('first', 's1'))
  expect(store.state.ended).toBeNull()
  expect(store.state.endedLate?.recordingId).toBe('first')
  store.take(state({ phase: 'recording', sinceS: 11 }))
  store.take(state({ phase: 'finished', sinceS: 19, pulls: 1 }))
  expect(store.state.ended).toBeNull()
  store.take(stored('second', 's2'))
  expect(store.state.ended?.recordingId).toBe('second')
})
