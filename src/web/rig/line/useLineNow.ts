import { useEffect, useRef, useState } from 'react'
import { fromNewton, type LogForceUnit } from '../../../core/units/force.ts'
import type { Line } from '../../../server/apiTypes.ts'
import { useChange } from '../../data/queries.ts'
import { type ChosenLine, useLineChoice } from '../../live/useLineChoice.ts'
import { useLine, useLiveState, useLiveStore } from '../../live/useLive.tsx'
import { readingsOf, recentReadings, type SeenReadings } from './recentReadings.ts'
import { type Steady, steadyNow } from './steady.ts'

/** What the line is opened for: `raw`, as the converter sends it, or `rig`, in newton by the rig's calibration. */
export type LineMode = 'raw' | 'rig' | 'other' | 'closed' | 'away'

/** The line as it is at this moment, a few times a second. */
export interface LineNow {
  readonly mode: LineMode
  readonly name: string | null
  /** What the readings below are in. */
  readonly unit: LogForceUnit
  readonly rateHz: number | null
  readonly latest: number | null
  readonly steady: Steady | null
  readonly timeS: Float64Array
  readonly value: Float64Array
  /** Greatest force by the rig's calibration since the line was opened. */
  readonly greatestN: number | null
  readonly garbled: number
}

export interface BenchLine {
  readonly now: LineNow
  readonly chosen: ChosenLine
  /** Opens the line, or opens it again in another way. */
  open(mode: 'raw' | 'rig'): void
  close(): void
  readonly isBusy: boolean
  readonly error: unknown
}

const KEEP_S = 8
const LOOK_MS = 200

/** The line to the rig `rigId`, for calibrating and checking it. Only below a `LiveProvider`. */
export function useLineNow(rigId: string | null): BenchLine {
  const host = useLine()
  const store = useLiveStore()
  const live = useLiveState()
  const chosen = useLineChoice()
  const [rawLine, setRawLine] = useState<string | null>(null)
  const [recent] = useState(() => recentReadings(KEEP_S))
  const [lastSeen, setLastSeen] = useState<SeenReadings | null>(null)
  const seen = readingsOf(lastSeen, live.snapshots)
  const wished = useRef<'raw' | 'rig'>('rig')
  /** How to open the line again with its rig, while it is open raw. */
  const backToRig = useRef<Line | null>(null)

  useEffect(
    () =>
      store.onMessage(message => {
        if (message.kind === 'snapshot') recent.clear()
        if (message.kind === 'samples') recent.add(message.timeS, message.forceN)
      }),
    [store, recent],
  )
  useEffect(() => {
    const look = () => setLastSeen({ ...recent.read(), snapshot: store.state.snapshots })
    const timer = setInterval(look, LOOK_MS)
    return () => clearInterval(timer)
  }, [recent, store])
  // So that Pull opens the line with the rig that stands on the bench.
  const { choice, change } = chosen
  useEffect(() => {
    if (rigId !== null && choice.rigId !== rigId) change({ rigId })
  }, [rigId, choice.rigId, change])

  const opening = useChange<Line, void>(async (_, line) => {
    backToRig.current = null
    if (store.state.line !== null) await host.close()
    const { open } = await host.open(line)
    setRawLine(wished.current === 'raw' ? (open?.name ?? null) : null)
    if (wished.current === 'raw')
      backToRig.current = { ...line, log: { ...line.log, tension: undefined }, rigId }
  })
  const closing = useChange<void, unknown>(() => host.close())

  // Whoever leaves in the middle must not pull without the scale.
  useEffect(
    () => () => {
      const line = backToRig.current
      if (line) void host.close().then(() => host.open(line), passedOver)
    },
    [host],
  )

  const { figures } = store.frame
  const isRaw = rawLine !== null && live.line === rawLine && live.rig === null
  const mode: LineMode =
    live.server !== 'here'
      ? 'away'
      : live.line === null
        ? 'closed'
        : isRaw
          ? 'raw'
          : live.rig !== null && live.rig.id === rigId
            ? 'rig'
            : 'other'
  const lineUnit: LogForceUnit = figures?.unit ?? 'counts'
  const unit: LogForceUnit = figures?.forceIn === 'counts' ? 'counts' : mode === 'raw' ? lineUnit : 'N'
  const value =
    unit === 'counts' || unit === 'N' ? seen.value : seen.value.map(forceN => fromNewton(forceN, unit))
  return {
    chosen,
    now: {
      mode,
      name: live.line,
      unit,
      rateHz: figures?.sampleRateHz ?? null,
      latest: value.at(-1) ?? null,
      steady: steadyNow(seen.timeS, value),
      timeS: seen.timeS,
      value,
      greatestN: mode === 'rig' ? (figures?.peakN ?? null) : null,
      garbled: figures?.troubles.garbled ?? 0,
    },
    open(wish) {
      const line = chosen.take()
      if (!line) return
      wished.current = wish
      opening.mutate(
        wish === 'raw'
          ? // As the converter sends it: the calibration itself tells which way a pull goes.
            { ...line, rigId: null, log: { ...line.log, tension: 'positive' } }
          : { ...line, rigId },
      )
    },
    close: () => closing.mutate(),
    isBusy: opening.isPending || closing.isPending,
    error: opening.error ?? closing.error,
  }
}

/** Nobody is there any more to be told: Pull shows that no line is open. */
const passedOver = (): void => {}
