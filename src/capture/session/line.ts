import type { Outcome } from '../../core/problem.ts'
import { type AlarmBoard, alarmBoard } from '../alarms.ts'
import { type Deliverer, deliverer } from '../deliver.ts'
import type { Columns } from '../journal/entries.ts'
import { diskFiles } from '../journal/files.ts'
import { createDecoder } from '../lines/decode.ts'
import { growCurve } from '../live/curve.ts'
import { makeMeter } from '../live/meter.ts'
import { watchSign } from '../live/sign.ts'
import { keepRecent } from '../recent.ts'
import type { Recorder } from '../recorder.ts'
import { type CaptureState, WAITING } from '../state.ts'
import { liveClock } from '../timing/liveClock.ts'
import { watchSequence } from '../timing/sequence.ts'
import type { Captured, LiveEvent, RecordingPlan, Troubles } from '../types.ts'
import type { SessionOptions, Snapshot } from './public.ts'

const steadyClock = { nowS: (): number => performance.now() / 1000, wall: (): Date => new Date() }

/** Where one open line stands: what its intake, its states and its messages share. */
export type Line = ReturnType<typeof makeLine>

export function makeLine(options: SessionOptions) {
  const clock = options.clock ?? steadyClock
  const openedAtS = clock.nowS()
  /** Seconds since the line was opened. */
  const nowS = (): number => clock.nowS() - openedAtS
  const out: Deliverer = deliverer(nowS)
  const alarms: AlarmBoard = alarmBoard(alarm => out.send({ kind: 'alarm', alarm }))
  return {
    options,
    source: options.source,
    journals: options.journals,
    files: options.files ?? diskFiles,
    capacityN: options.capacityN ?? null,
    countsToN: options.countsToN ?? null,
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
    troubles: noTroubles(),
    samples: 0,
    garbledKept: 0,
    garbledUntold: 0,
    lastArrivalS: 0,
    lastSampleS: 0,
    seenSamples: false,
    /** What makes a pull positive: as told, else as found from the load. */
    sign: (options.log?.tension === 'negative' ? -1 : 1) as 1 | -1,
    /** Live zero that `signs` counts from. */
    signZeroN: 0,
    figuresDue: false,
    /** Samples that wait to be sent on. */
    batchTimes: [] as number[],
    batchForces: [] as number[],
  }
}

export const noTroubles = (): Troubles => ({
  lost: 0,
  repeated: 0,
  outOfOrder: 0,
  garbled: 0,
  resets: 0,
  reopened: 0,
})
