import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import type { Clip } from './clip.ts'
import type { FrameRate } from './frameRate.ts'
import { frameTimeS, steadyFrames } from './frameTimes.ts'
import { CURVE_PIXELS, clipTrack } from './track.ts'
import { type Walk, type WalkLook, walkShapes } from './walkShapes.ts'
import { walkSteps } from './walkSteps.ts'

/** A recording and its reading made ready to be told step by step. */
export function walkOf(
  recording: Recording,
  reading: Reading,
  { name, unit }: { readonly name: string; readonly unit: ShownUnit },
): Walk {
  const track = clipTrack(recording, reading, { name, unit })
  const gaps = track.stretches.filter(s => s.kind === 'gap')
  const raw = thinned(recording.timeS, recording.forceN, CURVE_PIXELS, gaps)
  return {
    track,
    raw: { timeS: raw.timeS, forceN: raw.value },
    rests: reading.zeros
      .filter(zero => zero.basis === 'rest')
      .map(({ fromS, toS, levelN }) => ({ fromS, toS, levelN })),
    steps: walkSteps(reading, unit),
  }
}

/** How long the curve takes to grow into a step; the rest of the step it stands still. */
const GROW_S = 0.8

export interface WalkPace {
  readonly rate: FrameRate
  /** How long each step is shown. */
  readonly stepS: number
}

/** The walk as a clip: each step for `stepS`, its curve growing out of the step before. */
export function walkClip(walk: Walk, look: WalkLook, { rate, stepS }: WalkPace): Clip {
  const times = steadyFrames(rate, walk.steps.length * stepS)
  const growS = Math.min(GROW_S, stepS / 2)
  const placeAt = (frame: number) => {
    const atS = frameTimeS(times, frame)
    const index = Math.min(walk.steps.length - 1, Math.floor(atS / stepS + 1e-9))
    const share = Math.min(1, Math.max(0, (atS - index * stepS) / growS))
    const toS = walk.steps[index]!.toS
    const fromS = walk.steps[index - 1]?.toS ?? toS
    return { index, drawnToS: share === 1 ? toS : fromS + share * (toS - fromS) }
  }
  return {
    width: look.width,
    height: look.height,
    times,
    part: { x: 0, y: 0, width: look.width, height: look.height },
    ground: look.look.paper,
    shapesAt: frame => {
      const { index, drawnToS } = placeAt(frame)
      return walkShapes(walk, index, look, drawnToS)
    },
    keyAt: frame => {
      const { index, drawnToS } = placeAt(frame)
      return `${index} ${drawnToS}`
    },
  }
}
