import { randomUUID } from 'node:crypto'
import { join } from 'node:path'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import { N_PER } from '../core/units/force.ts'
import { ENGINE_VERSION } from '../core/version.ts'
import type { LogOptions } from '../logs/index.ts'
import { alarmBoard } from './alarms.ts'
import { type Deliverer, deliverer, type LiveListener } from './deliver.ts'
import type { Columns, Header, Remark } from './journal/entries.ts'
import { diskFiles, type FileLayer } from './journal/files.ts'
import type { SampleBlock } from './journal/frames.ts'
import { createDecoder, type Decoded } from './lines/decode.ts'
import { growCurve, type ThinCurve } from './live/curve.ts'
import { makeMeter } from './live/meter.ts'
import {
  deviceReset,
  emptyNote,
  nearCapacity,
  noSamplesYet,
  nothingArmed,
  nothingRuns,
  notMade,
  overCapacity,
  runsAlready,
  silent,
  wrongSpeed,
} from './problems.ts'
import { COMMANDS, type Greeting } from './protocol.ts'
import { keepRecent } from './recent.ts'
import { type Recorder, readyFolder, startRecorder } from './recorder.ts'
import type { Source } from './source.ts'
import { type CaptureState, isKeeping, nextState, WAITING } from './state.ts'
import { liveClock } from './timing/liveClock.ts'
import { watchSequence } from './timing/sequence.ts'
import type { Alarm, Captured, LiveEvent, LiveFigures, RecordingPlan, Troubles } from './types.ts'

/** How often samples and figures are sent on; events, states and alarms go at once. */
const SEND_MS = 33
const SILENT_S = 2
/** Events kept for a viewer who comes late. */
const MOST_EVENTS = 500
/** Unreadable lines kept word for word; the others are counted. */
const MOST_GARBLED = 200

export interface SessionOptions {
  readonly source: Source
  /** Folder of the journals: beside the store, on a disk that survives a power cut. */
  readonly journals: string
  /** What the operator says of the line: unit, tension, decimal, rate, encoding. */
  readonly log?: LogOptions
  readonly capacityN?: number | null
  /** For a line of raw counts: force in newton, for the live figures only; the recording keeps the counts. */
  readonly countsToN?: ((counts: number) => number) | null
  /** Asked of a device of our own protocol once it has greeted. */
  readonly askRateHz?: number | null
  readonly files?: FileLayer
  /** Seconds of a clock that never jumps, and the wall clock. */
  readonly clock?: { readonly nowS: () => number; readonly wall: () => Date }
}

/** Everything a viewer needs who comes late. */
export interface Snapshot {
  /** `lost`: it went away by itself and is tried again; `closed`: it has come to its end. */
  readonly line: 'open' | 'lost' | 'closed'
  readonly state: CaptureState
  readonly plan: RecordingPlan | null
  readonly figures: LiveFigures
  readonly events: readonly LiveEvent[]
  readonly alarms: readonly Alarm[]
  readonly curve: ThinCurve
}

/**
 * One open line to a device, and the recordings made over it, one after the other. Commands that do not fit the state
 * are refused with a problem; nothing that the line, the disk or a listener does makes it throw.
 */
export interface Session {
  readonly source: Pick<Source, 'kind' | 'name'>
  subscribe(listener: LiveListener): () => void
  snapshot(): Snapshot
  /** Waits for the force to rise; samples from before are kept. */
  arm(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  disarm(): Outcome<CaptureState>
  /** Records from now on (and what came just before), by hand. */
  start(plan: RecordingPlan): Promise<Outcome<CaptureState>>
  /** Nothing pulls now, says the operator: the live zero is taken anew and noted. Never talks to the device. */
  zero(): Outcome<CaptureState>
  note(text: string): Outcome<CaptureState>
  finish(): Promise<Outcome<Captured>>
  giveUp(reason: string): Promise<Outcome<Captured>>
  /** Closes the line. A recording that runs stays in its journal and is recovered at the next start. */
  close(): Promise<void>
  /** The journal being written, for `recoverJournals`; `null` while nothing is recorded. */
  readonly journal: string | null
}

export const NO_PLAN: RecordingPlan = {
  about: { study: null, variant: null, specimen: null, operator: null },
  startAtN: null,
  keepBeforeS: 5,
  pullsExpected: 1,
  finishAfterRestS: null,
  elements: null,
}

const steadyClock = { nowS: (): number => performance.now() / 1000, wall: (): Date => new Date() }

/**
 * Opens the line. Resolves once it is open, or with the problem where it cannot be opened.
 */
export async function openSession(options: SessionOptions): Promise<Outcome<Session>> {
  const session = makeSession(options)
  const problem = await session.opening
  return problem ? wrong(problem) : fine(session)
}

function makeSession(options: SessionOptions): Session & { readonly opening: Promise<Problem | null> } {
  const {
    source,
    journals,
    capacityN = null,
    countsToN = null,
    files = diskFiles,
    clock = steadyClock,
  } = options
  const openedAtS = clock.nowS()
  const nowS = (): number => clock.nowS() - openedAtS
  const stop = new AbortController()
  const out: Deliverer = deliverer(nowS)
  const alarms = alarmBoard(alarm => out.send({ kind: 'alarm', alarm }))
  const decoder = createDecoder(options.log)
  const recent = keepRecent()
  const meter = makeMeter()
  const curve = growCurve()
  const times = liveClock()
  const watch = watchSequence()

  let state: CaptureState = WAITING
  let plan: RecordingPlan | null = null
  let columns: Columns | null = null
  let recorder: { readonly id: string; readonly recorder: Recorder } | null = null
  let ending: Promise<Outcome<Captured>> | null = null
  let events: LiveEvent[] = []
  let troubles = noTroubles()
  let samples = 0
  let garbledKept = 0
  let garbledUntold = 0
  let lastArrivalS = 0
  let lastSampleS = 0
  let seenSamples = false
  /** Which way a load goes on the line, after `log.tension` has been applied. */
  let tension: 1 | -1 = 1
  let figuresDue = false
  let batchTimes: number[] = []
  let batchForces: number[] = []

  // What came in.

  const takeBytes = (chunk: Uint8Array): void => {
    lastArrivalS = nowS()
    for (const decoded of decoder.push(chunk, lastArrivalS)) take(decoded)
    alarms.lower('silent', lastArrivalS)
  }

  const take = (decoded: Decoded): void => {
    switch (decoded.kind) {
      case 'columns':
        columns = decoded.columns
        recent.columns(columns)
        recorder?.recorder.keep(columns)
        return
      case 'remark':
        takeRemark(decoded.remark)
        return
      case 'greeting':
        answerGreeting(decoded.greeting)
        return
      case 'samples':
        takeBlock(decoded.block)
    }
  }

  const takeRemark = (remark: Remark): void => {
    if (remark.kind === 'garbled') {
      troubles = { ...troubles, garbled: troubles.garbled + 1 }
      if (++garbledKept > MOST_GARBLED) {
        garbledUntold++
        return
      }
    }
    if (remark.kind === 'device-reset') {
      if (seenSamples) {
        troubles = { ...troubles, resets: troubles.resets + 1 }
        alarms.raise('device-reset', deviceReset(source.name), nowS())
      }
      breakOff()
    }
    keepRemark(remark)
  }

  const keepRemark = (remark: Remark): void => {
    recent.remark(remark)
    recorder?.recorder.keep(remark)
    if (remark.kind !== 'held') out.send({ kind: 'note', atS: remark.atS, text: remark.text })
  }

  const breakOff = (): void => {
    watch.restart()
    times.breakOff()
    meter.breakOff()
  }

  const answerGreeting = ({ rateHz }: Greeting): void => {
    const wanted = options.askRateHz ?? null
    if (!source.send) return
    if (wanted !== null && wanted !== rateHz) source.send(COMMANDS.rate(wanted))
    source.send(COMMANDS.start)
  }

  const takeBlock = (block: SampleBlock): void => {
    recent.block(block)
    recorder?.recorder.keep({ what: 'samples', block })
    const factor = columns === null || columns.unit === 'counts' ? 1 : N_PER[columns.unit]
    const sign = options.log?.tension === 'negative' ? -1 : 1
    for (let i = 0; i < block.values.length; i++) {
      if (block.sequence && !countSequence(block.sequence[i]!)) continue
      const value = block.values[i]! * factor
      const indicatedN = sign * (countsToN && columns?.unit === 'counts' ? countsToN(value) : value)
      takeSample(times.next(block.arrivedS, block.stampS ? finiteOrNull(block.stampS[i]!) : null), indicatedN)
    }
    seenSamples = true
    figuresDue = true
    alarms.lower('wrong-speed', lastArrivalS)
  }

  /** Counts what the sequence numbers tell; false for a sample that has no place in the live curve. */
  const countSequence = (number: number): boolean => {
    const found = watch.see(number)
    switch (found.kind) {
      case 'repeated':
        troubles = { ...troubles, repeated: troubles.repeated + 1 }
        return false
      case 'late':
        troubles = { ...troubles, outOfOrder: troubles.outOfOrder + 1, lost: troubles.lost - 1 }
        return false
      case 'reset':
        troubles = { ...troubles, resets: troubles.resets + 1 }
        alarms.raise('device-reset', deviceReset(source.name), nowS())
        times.breakOff()
        meter.breakOff()
        return true
      case 'next':
        if (found.lost > 0) troubles = { ...troubles, lost: troubles.lost + found.lost }
        return true
    }
  }

  const takeSample = (atS: number, indicatedN: number): void => {
    lastSampleS = atS
    const { forceN, events: told } = meter.add(atS, indicatedN)
    curve.add(atS, indicatedN)
    batchTimes.push(atS)
    batchForces.push(indicatedN)
    if (isKeeping(state)) samples++
    const thresholdN =
      state.phase === 'armed'
        ? (plan?.startAtN ?? meter.startAtN)
        : Math.max(meter.loadedFromN, Number.MIN_VALUE)
    // A cell that counts tension negative starts a recording too, as long as its sign is not told.
    if (state.phase === 'armed' && options.log?.tension === undefined) tension = forceN < 0 ? -1 : 1
    const over = tension * forceN > thresholdN
    move(nextState(state, { kind: 'sample', atS, over }, plan ?? NO_PLAN))
    for (const event of told) tellEvent(event)
    watchCapacity(indicatedN, atS)
  }

  const tellEvent = (event: LiveEvent): void => {
    const at = events.findIndex(({ id }) => id === event.id)
    if (at >= 0) events[at] = event
    else events.push(event)
    if (events.length > MOST_EVENTS) events.shift()
    out.send({ kind: 'event', event })
  }

  const watchCapacity = (indicatedN: number, atS: number): void => {
    if (capacityN === null) return
    const share = Math.abs(indicatedN) / capacityN
    if (share > 1) alarms.raise('over-capacity', overCapacity(source.name, share), atS)
    else if (share > 0.9) alarms.raise('near-capacity', nearCapacity(source.name, share), atS)
    else if (share < 0.8) {
      alarms.lower('over-capacity', atS)
      alarms.lower('near-capacity', atS)
    }
  }

  // Where it stands.

  /** Goes into a state, with what that entails. */
  const move = (next: CaptureState): void => {
    if (next === state) return
    const before = state
    state = next
    if (isKeeping(next) && !isKeeping(before)) begin()
    if (next.pulling && !before.pulling) meter.beginPull()
    if (next.phase === 'rest' && before.phase === 'recording') meter.restAfterPull()
    const told = next.phase !== before.phase || next.pulls !== before.pulls || next.pulling !== before.pulling
    if (told) out.send({ kind: 'state', state })
    if (isKeeping(before) && !isKeeping(next)) void endRecording()
  }

  const begin = (): void => {
    const chosen = plan ?? NO_PLAN
    const kept = recent.since(lastArrivalS - chosen.keepBeforeS)
    const id = randomUUID()
    const { about, ...rest } = chosen
    const header: Header = {
      what: 'header',
      id,
      startedAt: clock.wall().toISOString(),
      startedS: nowS(),
      about,
      plan: rest,
      source: source.name,
      engine: ENGINE_VERSION,
      pid: process.pid,
      capacityN,
      rateHz: options.log?.rateHz ?? null,
      tension: options.log?.tension ?? null,
    }
    const onTrouble = (problem: Problem | null): void => {
      if (problem) alarms.raise('not-on-disk', problem, nowS())
      else alarms.lower('not-on-disk', nowS())
    }
    recorder = { id, recorder: startRecorder({ files, folder: journals, header, onTrouble }) }
    for (const entry of kept) recorder.recorder.keep(entry)
    samples = kept.reduce((n, entry) => n + (entry.what === 'samples' ? entry.block.values.length : 0), 0)
    troubles = noTroubles()
    garbledKept = 0
    garbledUntold = 0
    events = events.filter(({ atS }) => atS >= lastSampleS - chosen.keepBeforeS)
    ending = null
    alarms.lower('device-reset', nowS())
    meter.begin()
    if (meter.zeroFrom === 'none' && state.startedBy === 'hand') meter.zeroWhenQuiet()
  }

  const endRecording = (): Promise<Outcome<Captured>> => {
    const running = recorder
    if (running === null) return ending ?? Promise.resolve(wrong(nothingRuns(source.name)))
    recorder = null
    tellUntold(running.recorder)
    // What belonged to this specimen is not "before" the next one.
    recent.clear()
    const how = state.phase === 'given-up' ? 'given-up' : 'finished'
    ending = running.recorder
      .end({ what: 'end', how, atS: nowS(), reason: state.reason })
      .then(outcome => {
        if (outcome.ok) out.send({ kind: 'captured', captured: outcome.value })
        return outcome
      })
      .catch((error: unknown) => wrong(notMade(source.name, error)))
    return ending
  }

  const tellUntold = (kept: Recorder): void => {
    if (garbledUntold === 0) return
    const text = `${garbledUntold} more unreadable lines`
    kept.keep({ what: 'remark', kind: 'garbled', atS: nowS(), text, count: garbledUntold })
    garbledUntold = 0
  }

  // What goes out.

  const figures = (): LiveFigures => {
    const periodS = times.periodS
    return {
      atS: lastSampleS,
      forceN: meter.forceN,
      peakN: meter.peakN,
      pullPeakN: meter.pullPeakN,
      rateNPerS: meter.rateNPerS,
      shareOfCapacity:
        capacityN === null || meter.forceN === null ? null : (meter.forceN + meter.zeroN) / capacityN,
      zeroN: meter.zeroFrom === 'none' ? null : meter.zeroN,
      zeroFrom: meter.zeroFrom,
      unit: columns?.unit ?? null,
      sampleRateHz: periodS === null ? null : 1 / periodS,
      samples,
      troubles,
    }
  }

  const sendOn = (): void => {
    if (batchTimes.length > 0) {
      const batch = { timeS: Float64Array.from(batchTimes), forceN: Float64Array.from(batchForces) }
      batchTimes = []
      batchForces = []
      out.send({ kind: 'samples', batch })
    }
    if (figuresDue) {
      figuresDue = false
      out.send({ kind: 'figures', figures: figures() })
    }
    watchLine()
  }

  const watchLine = (): void => {
    const silentS = nowS() - lastArrivalS
    if (seenSamples && silentS > Math.max(SILENT_S, 5 * (times.periodS ?? 0))) {
      alarms.raise('silent', silent(source.name), nowS())
    }
    const odd = decoder.oddShare()
    if (odd !== null && odd > 0.2) alarms.raise('wrong-speed', wrongSpeed(source.name), nowS())
  }

  const timer = setInterval(sendOn, SEND_MS)
  timer.unref()

  // The line.

  let tellOpen: (problem: Problem | null) => void = () => {}
  const opening = new Promise<Problem | null>(resolve => {
    tellOpen = resolve
  })
  let line: Snapshot['line'] = 'open'
  const lineRemark = (kind: 'line-lost' | 'line-back', text: string): void =>
    keepRemark({ what: 'remark', kind, atS: nowS(), text, count: 1 })
  const running = source
    .run(
      {
        opened() {
          if (line === 'lost') {
            line = 'open'
            troubles = { ...troubles, reopened: troubles.reopened + 1 }
            lineRemark('line-back', `${source.name} is back`)
            alarms.lower('line-lost', nowS())
            breakOff()
          }
          tellOpen(null)
        },
        bytes: takeBytes,
        lost(problem) {
          line = 'lost'
          lineRemark('line-lost', `${source.name} was lost: ${problem.what}`)
          alarms.raise('line-lost', problem, nowS())
        },
      },
      stop.signal,
    )
    .then(problem => {
      line = 'closed'
      tellOpen(problem)
      sendOn()
      out.send({ kind: 'closed', problem })
    })

  // Commands.

  /** States and samples are told on one axis, which a device's clock may lead. */
  const momentS = (): number => (seenSamples ? lastSampleS : nowS())

  const readyFor = async (next: RecordingPlan): Promise<Problem | null> => {
    if (isKeeping(state)) return runsAlready(source.name)
    await ending
    ending = null
    const problem = await readyFolder(files, journals)
    if (problem) return problem
    plan = next
    return null
  }

  return {
    opening,
    source: { kind: source.kind, name: source.name },
    subscribe: out.add,
    snapshot: () => ({
      line,
      state,
      plan,
      figures: figures(),
      events: [...events],
      alarms: alarms.standing(),
      curve: curve.thin(),
    }),
    async arm(next) {
      const problem = await readyFor(next)
      if (problem) return wrong(problem)
      meter.zeroWhenQuiet()
      curve.clear()
      move(nextState(state, { kind: 'arm', atS: momentS() }, next))
      return fine(state)
    },
    disarm() {
      if (state.phase !== 'armed') return wrong(nothingArmed(source.name))
      move(nextState(state, { kind: 'disarm', atS: momentS() }, plan ?? NO_PLAN))
      return fine(state)
    },
    async start(next) {
      const problem = await readyFor(next)
      if (problem) return wrong(problem)
      move(nextState(state, { kind: 'start', atS: momentS() }, next))
      await recorder?.recorder.begun
      return fine(state)
    },
    zero() {
      if (!meter.zeroNow()) return wrong(noSamplesYet(source.name))
      keepRemark({ what: 'remark', kind: 'zero', atS: nowS(), text: 'zero taken by the operator', count: 1 })
      figuresDue = true
      return fine(state)
    },
    note(text) {
      const shown = text.trim().slice(0, 2_000)
      if (shown === '') return wrong(emptyNote(source.name))
      keepRemark({ what: 'remark', kind: 'operator', atS: nowS(), text: shown, count: 1 })
      return fine(state)
    },
    finish() {
      move(nextState(state, { kind: 'finish', atS: momentS() }, plan ?? NO_PLAN))
      return endRecording()
    },
    async giveUp(reason) {
      move(nextState(state, { kind: 'give-up', atS: momentS(), reason }, plan ?? NO_PLAN))
      return endRecording()
    },
    async close() {
      stop.abort()
      await running
      clearInterval(timer)
      await ending
      const left = recorder
      recorder = null
      await left?.recorder.leave()
    },
    get journal() {
      return recorder === null ? null : join(journals, `${recorder.id}.journal`)
    },
  }
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null)
const noTroubles = (): Troubles => ({
  lost: 0,
  repeated: 0,
  outOfOrder: 0,
  garbled: 0,
  resets: 0,
  reopened: 0,
})
