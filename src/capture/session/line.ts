import { tensionOf } from '../../core/calibration/rigFacts.ts'
import type { Outcome } from '../../core/problem.ts'
import { type AlarmBoard, alarmBoard } from '../alarms.ts'
import type { Computer } from '../computer.ts'
import { type Deliverer, deliverer } from '../deliver.ts'
import type { Columns } from '../journal/entries.ts'
import { createDecoder } from '../lines/decode.ts'
import { growCurve } from '../live/curve.ts'
import { makeMeter } from '../live/meter.ts'
import { type LiveScale, liveScale } from '../live/scale.ts'
import { watchSign } from '../live/sign.ts'
import { keepRecent } from '../recent.ts'
import type { Recorder } from '../recorder.ts'
import { type CaptureState, WAITING } from '../state.ts'
import { liveClock } from '../timing/liveClock.ts'
import { watchSequence } from '../timing/sequence.ts'
import type { Captured, LiveEvent, LiveNote, RecordingPlan, Troubles } from '../types.ts'
import { floodGate } from './floods.ts'
import type { SessionOptions, Snapshot } from './public.ts'

const steadyClock = { nowS: (): number => performance.now() / 1000, wall: (): Date => new Date() }

/** Where one open line stands: what its intake, its states and its messages share. */
export type Line = ReturnType<typeof makeLine>

export function makeLine(computer: Computer, options: SessionOptions) {
  const clock = options.clock ?? steadyClock
  const openedAtS = clock.nowS()
  /** Seconds since the line was opened. */
  const nowS = (): number => clock.nowS() - openedAtS
  const out: Deliverer = deliverer(nowS)
  const rig = options.rig ?? null
  // A calibration turns the sign by itself; what the operator says counts for more.
  const tension = options.log?.tension ?? (rig === null ? undefined : tensionOf(rig.document))
  const alarms: AlarmBoard = alarmBoard(alarm => out.send({ kind: 'alarm', alarm }))
  return {
    computer,
    options,
    source: options.source,
    journals: options.journals,
    rig,
    tension,
    capacityN: options.capacityN ?? rig?.document.cell.capacityN ?? null,
    scale: (value => value) as LiveScale,
    /** Whether `scale` gives newton. */
    isForce: true,
    clock,
    nowS,
    out,
    alarms,
    decoder: createDecoder(options.log),
    recent: keepRecent(),
    meter: makeMeter(),
    curve: growCurve(),
    signs: watchSign(),
    times: liveClock(),
    watch: watchSequence(),
    stands: 'open' as Snapshot['line'],
    state: WAITING as CaptureState,
    plan: null as RecordingPlan | null,
    columns: null as Columns | null,
    recorder: null as { readonly id: string; readonly recorder: Recorder } | null,
    ending: null as Promise<Outcome<Captured>> | null,
    events: [] as LiveEvent[],
    notes: [] as LiveNote[],
    /** Turns tapped since the recording began; `null`: none. */
    turns: null as number | null,
    /** Latest values of the channels in force. */
    channelValues: [] as number[],
    troubles: noTroubles(),
    samples: 0,
    floods: floodGate(),
    /** Whether a sample came since the device last said that it started anew. */
    sampledSinceReset: true,
    /** Since when samples are held in memory because the disk does not take them; `null`: it does. */
    heldSinceS: null as number | null,
    heldToldS: 0,
    lastArrivalS: 0,
    lastSampleS: 0,
    seenSamples: false,
    /** What makes a pull positive: as told, else as found from the load. */
    sign: (tension === 'negative' ? -1 : 1) as 1 | -1,
    /** Live zero that `signs` counts from. */
    signZeroN: 0,
    figuresDue: false,
    /** Samples that wait to be sent on. */
    batchTimes: [] as number[],
    batchForces: [] as number[],
  }
}

/** States, notes and samples are told on one axis, which a device's clock may lead. */
export const momentS = (line: Line): number => (line.seenSamples ? line.lastSampleS : line.nowS())

/** The columns in force from now on, and how their forces are scaled. */
export function setColumns(line: Line, columns: Columns): void {
  line.columns = columns
  line.channelValues = columns.channels.map(() => Number.NaN)
  const today = line.clock.wall().toISOString().slice(0, 10)
  const { scale, isForce } = liveScale(columns.unit, line.rig?.document ?? null, today)
  line.scale = scale
  line.isForce = isForce
}

export const noTroubles = (): Troubles => ({
  lost: 0,
  repeated: 0,
  outOfOrder: 0,
  garbled: 0,
  resets: 0,
  reopened: 0,
})
