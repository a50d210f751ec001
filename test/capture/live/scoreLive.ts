import { makeMeter } from '../../../src/capture/live/meter.ts'
import { makePull, type PretendKind } from '../../../src/capture/pretend/index.ts'
import type { LiveEvent } from '../../../src/capture/types.ts'

export interface LiveScore {
  readonly must: number
  readonly found: number
  readonly kindRight: number
  readonly falseAlarms: number
  /** Samples between the first telling of a fall and the settling of its kind; the most. */
  readonly latestSettled: number
  readonly details: readonly string[]
}

/** Feeds a pretend pull to the live meter, sample by sample, and holds what it tells against the truth. */
export function scoreLive(kind: PretendKind, seed: number): LiveScore {
  const { recording, truth } = makePull({ kind, seed })
  const { timeS, forceN } = recording
  const meter = makeMeter()
  const told = new Map<number, { event: LiveEvent; firstAt: number; settledAt: number }>()
  meter.zeroWhenQuiet()
  let over = 0
  let free = 0
  let pulling = false
  for (let i = 0; i < timeS.length; i++) {
    const { forceN: f, events } = meter.add(timeS[i]!, forceN[i]!)
    if (f > Math.max(meter.loadedFromN, 1e-9)) {
      over ||= timeS[i]!
      free = 0
      if (!pulling && timeS[i]! - over > 0.5) {
        pulling = true
        meter.beginPull()
      }
    } else {
      free ||= timeS[i]!
      if (timeS[i]! - free > 0.25) {
        over = 0
        if (pulling) {
          pulling = false
          meter.restAfterPull()
        }
      }
    }
    for (const event of events) {
      const before = told.get(event.id)
      told.set(event.id, {
        event,
        firstAt: event.settled ? (before?.firstAt ?? i) : i,
        settledAt: event.settled ? i : (before?.settledAt ?? -1),
      })
    }
  }
  const periodS = 1 / truth.rateHz
  const reach = Math.max(0.3, 4 * periodS)
  const used = new Set<number>()
  let found = 0
  let kindRight = 0
  let must = 0
  const details: string[] = []
  for (const event of truth.events) {
    const near = [...told.values()]
      .filter(t => t.event.kind !== 'none' && Math.abs(t.event.atS - event.t) < reach)
      .sort((a, b) => Math.abs(a.event.atS - event.t) - Math.abs(b.event.atS - event.t))
    for (const t of near) used.add(t.event.id)
    if (event.weight !== 'must') continue
    must++
    const [best] = near
    if (!best) {
      details.push(
        `missed ${event.kind} at ${event.t.toFixed(3)} (${event.dropN.toFixed(2)} of ${event.beforeN.toFixed(2)})`,
      )
      continue
    }
    found++
    if (near.some(t => t.event.kind === event.kind)) kindRight++
    else details.push(`${event.kind} at ${event.t.toFixed(3)} told as ${best.event.kind}`)
  }
  const others = [...told.values()].filter(
    t => !used.has(t.event.id) && t.event.kind !== 'none' && t.event.kind !== 'unload',
  )
  for (const t of others)
    details.push(
      `false ${t.event.kind} at ${t.event.atS.toFixed(3)} (${t.event.dropN.toFixed(2)} of ${t.event.beforeN.toFixed(2)})`,
    )
  const all = [...told.values()]
  return {
    must,
    found,
    kindRight,
    falseAlarms: others.length,
    latestSettled: Math.max(0, ...all.filter(t => t.settledAt >= 0).map(t => t.settledAt - t.firstAt)),
    details,
  }
}
