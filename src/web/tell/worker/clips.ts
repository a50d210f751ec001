import { BlobSource } from 'mediabunny'
import { fine, type Outcome, type Problem, wrong } from '../../../core/problem.ts'
import { captionCues } from '../../../publish/captions/cues.ts'
import { writeSrt, writeVtt } from '../../../publish/captions/write.ts'
import { type FilmFacts, factsOf, packetsIn } from '../../../publish/clip/filmFacts.ts'
import { type FrameRate, parseFrameRate } from '../../../publish/clip/frameRate.ts'
import { fewEnough, steadyFrames } from '../../../publish/clip/frameTimes.ts'
import { type Take, takesEndS } from '../../../publish/clip/take.ts'
import { clipTrack } from '../../../publish/clip/track.ts'
import { walkOf } from '../../../publish/clip/walkClip.ts'
import type { Walk } from '../../../publish/clip/walkShapes.ts'
import { hasCurve } from '../../../publish/figure/studyFigure.ts'
import type { PublishedStudy } from '../../../publish/study/study.ts'
import type { Placement, Sync } from '../../../publish/sync/document.ts'
import { placedByHand, placementsOf } from '../../../publish/sync/place.ts'
import { syncClip } from '../../../publish/sync/syncClip.ts'
import { heard } from './hear.ts'
import { renderedClip } from './renderClip.ts'
import type { OnProgress, OverlayAsked, Sound, Telling, WalkAsked } from './types.ts'

const drawn = (study: PublishedStudy) => study.specimens.filter(hasCurve)

/** The specimens that lie in a film, each with its places there. */
const placed = (study: PublishedStudy, sync: Sync) =>
  drawn(study).flatMap(one => {
    const placements = placementsOf(sync, one.recording)
    return placements.length === 0 ? [] : [{ ...one, placements }]
  })

export async function syncBySound(study: PublishedStudy, name: string, sound: Sound): Promise<Outcome<Sync>> {
  const envelope = await heard(sound, name)
  return envelope.ok ? fine(syncClip(drawn(study), envelope.value, { name })) : envelope
}

/** One specimen in a film by hand; a film without a length ends when its result has been seen. */
export function syncByHand(
  study: PublishedStudy,
  specimen: string,
  { name, lengthS, offsetS }: Parameters<Telling['placed']>[2],
): Outcome<Sync> {
  const found = specimenOf(study, specimen)
  if (!found.ok) return found
  const place = placedByHand(found.value.recording, offsetS)
  return fine({
    document: 'tenterhook.sync',
    version: 1,
    clip: {
      name,
      lengthS: lengthS ?? takesEndS([{ track: trackOf(study, found.value), place }]),
      transients: 0,
    },
    placements: [place],
    notPlaced: [],
  })
}

export async function filmFacts(file: Blob, name: string): Promise<Outcome<FilmFacts>> {
  const packets = await packetsIn(new BlobSource(file)).catch(() => null)
  if (packets === null || packets.spans.length === 0)
    return wrong({
      where: name,
      what: 'no pictures of a film could be found in it.',
      cure: 'Give size, frames a second and length below.',
    })
  return factsOf(packets, name)
}

export function captionText(
  study: PublishedStudy,
  sync: Sync,
  { form, perSecond }: Parameters<Telling['captions']>[2],
): Outcome<string> {
  const { forceUnit: unit } = study
  const tracks = placed(study, sync)
  const cues = captionCues(
    tracks.map(one => ({ ...one, name: tracks.length > 1 ? one.name : null })),
    { lengthS: sync.clip.lengthS, unit, perSecond },
  )
  if (cues.length === 0) return wrong(nothingThere(sync))
  const from = tracks.map(one => one.recording.name).join(', ')
  return fine(
    form === 'srt'
      ? writeSrt(cues)
      : writeVtt(cues, `Force in ${unit}: now, and the peak so far. From ${from}.`),
  )
}

export async function overlay(
  study: PublishedStudy,
  sync: Sync,
  { asked, film }: { readonly asked: OverlayAsked; readonly film: FilmFacts | null },
  onProgress: OnProgress,
): Promise<Outcome<Blob>> {
  const takes: Take[] = placed(study, sync).flatMap(one => {
    const track = trackOf(study, one)
    return one.placements.map((place: Placement) => ({ track, place }))
  })
  if (takes.length === 0) return wrong(nothingThere(sync))
  const rate = rateOf(asked.rate)
  if (!rate.ok) return rate
  const times = fewEnough(film?.times ?? steadyFrames(rate.value, sync.clip.lengthS))
  if (!times.ok) return times
  const { width, height, dark, ground } = asked
  return renderedClip({ kind: 'overlay', takes, times: times.value, ground, width, height, dark }, onProgress)
}

/** The walk through one curve. */
export function walk(study: PublishedStudy, specimen: string): Outcome<Walk> {
  const found = specimenOf(study, specimen)
  if (!found.ok) return found
  const { recording, reading, name } = found.value
  return fine(walkOf(recording, reading, { name, unit: study.forceUnit }))
}

export async function walkFilm(
  study: PublishedStudy,
  { specimen, width, height, dark, rate: word, stepS }: WalkAsked,
  onProgress: OnProgress,
): Promise<Outcome<Blob>> {
  const told = walk(study, specimen)
  if (!told.ok) return told
  const rate = rateOf(word)
  if (!rate.ok) return rate
  const pace = { rate: rate.value, stepS }
  return renderedClip({ kind: 'walk', walk: told.value, pace, width, height, dark }, onProgress)
}

type Drawn = ReturnType<typeof drawn>[number]

function specimenOf(study: PublishedStudy, name: string): Outcome<Drawn> {
  const found = drawn(study).find(one => one.name === name)
  return found
    ? fine(found)
    : wrong({
        where: `specimen “${name}”`,
        what: 'it has no curve.',
        cure: 'Choose one that was pulled and read.',
      })
}

const trackOf = ({ forceUnit }: PublishedStudy, { recording, reading, name }: Drawn) =>
  clipTrack(recording, reading, { name, unit: forceUnit })

function rateOf(word: string): Outcome<FrameRate> {
  const rate = parseFrameRate(word)
  return rate === null
    ? wrong({
        where: 'frames a second',
        what: `“${word}” is none.`,
        cure: 'Give a number from 0.1 to 480, for example 25, 29.97 or 30000/1001.',
      })
    : fine(rate)
}

const nothingThere = ({ clip }: Sync): Problem => ({
  where: clip.name,
  what: 'none of the recordings is placed in it.',
  cure: 'Accept a place, or place a specimen by hand.',
})
