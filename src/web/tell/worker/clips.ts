import { BlobSource } from 'mediabunny'
import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import { shownUnitOf } from '../../../core/units/force.ts'
import { withoutEnding } from '../../../core/withoutEnding.ts'
import { captionCues } from '../../../publish/captions/cues.ts'
import { writeSrt, writeVtt } from '../../../publish/captions/write.ts'
import { type FilmFacts, factsOf, packetsIn } from '../../../publish/clip/filmFacts.ts'
import { clipOf } from '../../../publish/clip/job.ts'
import {
  type DrawnSpecimen,
  drawnSpecimens,
  nothingPlaced,
  type OverlayAsked,
  overlayJob,
  placedSpecimens,
  rateOf,
  trackOf,
} from '../../../publish/clip/overlayJob.ts'
import { takesEndS } from '../../../publish/clip/take.ts'
import { walkOf } from '../../../publish/clip/walkClip.ts'
import type { Walk } from '../../../publish/clip/walkShapes.ts'
import { slug } from '../../../publish/package/slugs.ts'
import type { PublishedStudy } from '../../../publish/study/study.ts'
import type { Sync } from '../../../publish/sync/document.ts'
import { placedByHand } from '../../../publish/sync/place.ts'
import { syncClip } from '../../../publish/sync/syncClip.ts'
import { zipped } from './files.ts'
import { heard } from './hear.ts'
import { pictureFiles } from './pictureFiles.ts'
import { renderedClip } from './renderClip.ts'
import type { OnProgress, Sound, Telling, WalkAsked } from './types.ts'

export async function syncBySound(study: PublishedStudy, name: string, sound: Sound): Promise<Outcome<Sync>> {
  const envelope = await heard(sound, name)
  return envelope.ok ? fine(syncClip(drawnSpecimens(study), envelope.value, { name })) : envelope
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
  const tracks = placedSpecimens(study, sync)
  const units = new Set(tracks.map(one => shownUnitOf(one.reading.recording.forceUnit, study.forceUnit)))
  const [unit = study.forceUnit] = units
  const cues = captionCues(
    tracks.map(one => ({ ...one, name: tracks.length > 1 ? one.name : null })),
    { lengthS: sync.clip.lengthS, unit, perSecond },
  )
  if (cues.length === 0) return wrong(nothingPlaced(sync))
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
  { asked, film }: OverlayOf,
  onProgress: OnProgress,
): Promise<Outcome<Blob>> {
  const job = overlayJob(study, sync, asked, film)
  return job.ok ? renderedClip(job.value, onProgress) : job
}

/** The same as pictures, one a frame, in a zip. */
export async function overlayPictures(
  study: PublishedStudy,
  sync: Sync,
  { asked, film }: OverlayOf,
  onProgress: OnProgress,
): Promise<Outcome<Blob>> {
  const job = overlayJob(study, sync, asked, film)
  if (!job.ok) return job
  const stem = slug(withoutEnding(sync.clip.name), 'overlay')
  return fine(await zipped(pictureFiles(clipOf(job.value), stem, onProgress), study.madeAt))
}

interface OverlayOf {
  readonly asked: OverlayAsked
  readonly film: FilmFacts | null
}

/** The walk through one curve. */
export function walk(study: PublishedStudy, specimen: string): Outcome<Walk> {
  const found = specimenOf(study, specimen)
  if (!found.ok) return found
  const { recording, reading, name } = found.value
  return fine(
    walkOf(recording, reading, { name, unit: shownUnitOf(reading.recording.forceUnit, study.forceUnit) }),
  )
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

function specimenOf(study: PublishedStudy, name: string): Outcome<DrawnSpecimen> {
  const found = drawnSpecimens(study).find(one => one.name === name)
  return found
    ? fine(found)
    : wrong({
        where: `specimen “${name}”`,
        what: 'it has no curve.',
        cure: 'Choose one that was pulled and read.',
      })
}
