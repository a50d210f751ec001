import { DARK, LIGHT } from '../figure/look.ts'
import { type Clip, overlayClip } from './clip.ts'
import type { FrameTimes } from './frameTimes.ts'
import type { Ground } from './overlayShapes.ts'
import type { Take } from './take.ts'
import { type WalkPace, walkClip } from './walkClip.ts'
import type { Walk } from './walkShapes.ts'

/** A clip to be rendered, as plain data that goes to another process. */
export type ClipJob = JobSize & (OverlayJob | WalkJob)

interface JobSize {
  readonly width: number
  readonly height: number
  readonly dark: boolean
}

interface OverlayJob {
  readonly kind: 'overlay'
  readonly takes: readonly Take[]
  readonly times: FrameTimes
  readonly ground: Ground
}

interface WalkJob {
  readonly kind: 'walk'
  readonly walk: Walk
  readonly pace: WalkPace
}

/** The clip that a job describes. */
export function clipOf(job: ClipJob): Clip {
  const { width, height } = job
  const look = job.dark ? DARK : LIGHT
  return job.kind === 'overlay'
    ? overlayClip(job.takes, job.times, { width, height, look, ground: job.ground })
    : walkClip(job.walk, { width, height, look }, job.pace)
}

/** A job as JSON; NaN, which JSON has not, goes as `null` within arrays of doubles. */
export const jobJson = (job: ClipJob): string =>
  JSON.stringify(job, (_key, value: unknown) =>
    value instanceof Float64Array ? { doubles: Array.from(value, v => (Number.isNaN(v) ? null : v)) } : value,
  )

/** The job that {@link jobJson} wrote: for our own messages only, nothing in it is checked. */
export const jobOf = (json: string): ClipJob =>
  JSON.parse(json, (_key, value: unknown) =>
    isDoubles(value) ? Float64Array.from(value.doubles, v => v ?? Number.NaN) : value,
  ) as ClipJob

const isDoubles = (value: unknown): value is { readonly doubles: readonly (number | null)[] } =>
  typeof value === 'object' && value !== null && 'doubles' in value
