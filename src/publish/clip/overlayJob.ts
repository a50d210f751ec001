import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { shownUnitOf } from '../../core/units/force.ts'
import { hasCurve } from '../figure/studyFigure.ts'
import type { PublishedStudy } from '../study/study.ts'
import type { Sync } from '../sync/document.ts'
import { placementsOf } from '../sync/place.ts'
import type { FilmFacts } from './filmFacts.ts'
import { type FrameRate, parseFrameRate } from './frameRate.ts'
import { fewEnough, steadyFrames } from './frameTimes.ts'
import type { ClipJob } from './job.ts'
import type { Ground } from './overlayShapes.ts'
import { clipTrack } from './track.ts'

export interface ClipSize {
  readonly width: number
  readonly height: number
  readonly dark: boolean
  /** Frames a second, as a person writes them: `25`, `29.97`, `30000/1001`. */
  readonly rate: string
}

export interface OverlayAsked extends ClipSize {
  /** `plate`: on a sheet of its own; `rim`: letters and lines with a rim, straight on the film. */
  readonly ground: Ground
}

export const drawnSpecimens = (study: PublishedStudy) => study.specimens.filter(hasCurve)
export type DrawnSpecimen = ReturnType<typeof drawnSpecimens>[number]

/** The specimens that lie in a film, each with its places there. */
export const placedSpecimens = (study: PublishedStudy, sync: Sync) =>
  drawnSpecimens(study).flatMap(one => {
    const placements = placementsOf(sync, one.recording)
    return placements.length === 0 ? [] : [{ ...one, placements }]
  })

export const trackOf = ({ forceUnit }: PublishedStudy, { recording, reading, name }: DrawnSpecimen) =>
  clipTrack(recording, reading, { name, unit: shownUnitOf(reading.recording.forceUnit, forceUnit) })

/** The overlay of a study for a film, as long as it is; `film`: its frames, where they are known. */
export function overlayJob(
  study: PublishedStudy,
  sync: Sync,
  { width, height, dark, ground, rate: word }: OverlayAsked,
  film: Pick<FilmFacts, 'times'> | null,
): Outcome<ClipJob> {
  const takes = placedSpecimens(study, sync).flatMap(one => {
    const track = trackOf(study, one)
    return one.placements.map(place => ({ track, place }))
  })
  if (takes.length === 0) return wrong(nothingPlaced(sync))
  const rate = rateOf(word)
  if (!rate.ok) return rate
  const times = fewEnough(film?.times ?? steadyFrames(rate.value, sync.clip.lengthS))
  return times.ok ? fine({ kind: 'overlay', takes, times: times.value, ground, width, height, dark }) : times
}

export function rateOf(word: string): Outcome<FrameRate> {
  const rate = parseFrameRate(word)
  return rate === null
    ? wrong({
        where: 'frames a second',
        what: `“${word}” is none.`,
        cure: 'Give a number from 0.1 to 480, for example 25, 29.97 or 30000/1001.',
      })
    : fine(rate)
}

export const nothingPlaced = ({ clip }: Sync): Problem => ({
  where: clip.name,
  what: 'none of the recordings is placed in it.',
  cure: 'Accept a place, or place a specimen by hand.',
})
