import type { Snapshot } from '../../capture/session/public.ts'
import type { CaptureState } from '../../capture/state.ts'
import type { Alarm, LiveEvent, LiveFigures, LiveMessage, LiveNote } from '../../capture/types.ts'
import type { Problem } from '../../core/problem.ts'
import type { EndedRecording, LineRigFacts, LiveReading, Unsaved } from './liveTypes.ts'

/** What a viewer gets over the live stream: JSON, small, and nothing that could be large. */
export type ViewerMessage =
  /**
   * All that it needs to draw. First; again when a viewer who fell behind has caught up, when a line is opened or closed,
   * and when what was told so far is no longer true (the sign of the force has turned).
   */
  | {
      readonly kind: 'snapshot'
      readonly line: string | null
      readonly rig: LineRigFacts | null
      readonly snapshot: Snapshot | null
      readonly reading: LiveReading | null
      readonly unsaved: readonly Unsaved[]
    }
  | { readonly kind: 'samples'; readonly timeS: readonly number[]; readonly forceN: readonly number[] }
  | { readonly kind: 'state'; readonly state: CaptureState }
  | { readonly kind: 'figures'; readonly figures: LiveFigures }
  | { readonly kind: 'event'; readonly event: LiveEvent }
  | { readonly kind: 'alarm'; readonly alarm: Alarm }
  | ({ readonly kind: 'note' } & LiveNote)
  /** A pull has ended, its recording goes on: what it reads as so far. */
  | ({ readonly kind: 'reading' } & LiveReading)
  /** A recording has ended and is in the store, or could not be put there. */
  | ({ readonly kind: 'stored' } & EndedRecording)
  /** What has ended and is not in the store has changed. */
  | { readonly kind: 'unsaved'; readonly unsaved: readonly Unsaved[] }
  | { readonly kind: 'closed'; readonly problem: Problem | null }
  /** Once a second, whatever else is told: a viewer who hears nothing for longer has lost the server. */
  | { readonly kind: 'beat' }

/** Points of one message: more than a screen can draw in a frame. */
const MOST_POINTS = 256

/** A session's message for viewers; `null` for what is not for them. */
export function viewerMessage(message: LiveMessage): ViewerMessage | null {
  switch (message.kind) {
    case 'samples':
      return { kind: 'samples', ...thinnedBatch(message.batch.timeS, message.batch.forceN) }
    case 'captured':
    case 'turned':
      return null
    default:
      return message
  }
}

/** At most `most` points in the order of time; of each run of samples its least and its greatest. */
export function thinnedBatch(
  timeS: Float64Array,
  forceN: Float64Array,
  most = MOST_POINTS,
): { timeS: number[]; forceN: number[] } {
  const n = timeS.length
  if (n <= most) return { timeS: Array.from(timeS), forceN: Array.from(forceN) }
  const kept: number[] = []
  const runs = most >> 1
  for (let run = 0; run < runs; run++) {
    let least = Math.floor((run * n) / runs)
    let greatest = least
    const to = Math.floor(((run + 1) * n) / runs)
    for (let i = least; i < to; i++) {
      if (forceN[i]! < forceN[least]!) least = i
      if (forceN[i]! > forceN[greatest]!) greatest = i
    }
    kept.push(Math.min(least, greatest))
    if (least !== greatest) kept.push(Math.max(least, greatest))
  }
  return { timeS: kept.map(i => timeS[i]!), forceN: kept.map(i => forceN[i]!) }
}
