import type { FilmFacts } from '../../../publish/clip/filmFacts.ts'
import type { ClipSize, OverlayAsked } from '../../../publish/clip/overlayJob.ts'
import type { FigureName } from '../../../publish/figure/figureNames.ts'
import type { LookName } from '../../../publish/figure/look.ts'
import type { ShapeName } from '../../../publish/figure/shape.ts'
import type { Sync } from '../../../publish/sync/document.ts'
import type { OpenStudy } from '../../data/backend.ts'
import type { Answer } from '../../engine/types.ts'

/** What is told: a study as it is open on the screen. */
export interface Told {
  readonly open: OpenStudy
  /** Names of people reduced to initials. */
  readonly initials: boolean
}

/** What there is to tell of a study. */
export interface Contents {
  /** Specimens with a curve, in the order in which they are told. */
  readonly specimens: readonly { readonly name: string; readonly lengthS: number }[]
  /** Those that can be drawn. */
  readonly figures: readonly FigureName[]
  /** Whether anything of a person's name is in it. */
  readonly hasPeople: boolean
}

export interface FigureAsked {
  readonly what: FigureName
  readonly look: LookName
  readonly shape: ShapeName
  /** Which pull is explained; `null` for the first. */
  readonly specimen: string | null
}

export interface WalkAsked extends ClipSize {
  readonly specimen: string
  readonly stepS: number
}

/** The sound of a film: a WAV as it is, or what the browser decoded of another. */
export type Sound =
  | { readonly kind: 'wav'; readonly file: Blob }
  | { readonly kind: 'samples'; readonly channels: readonly Float32Array[]; readonly rateHz: number }

export type OnProgress = (done: number, all: number) => void
export type ToPng = (svg: string, scale: number) => Promise<Uint8Array>

/**
 * Makes what is taken away, in a thread of its own, by the same functions as the commands. To stop what it does the
 * thread is ended and another one started: nothing is kept in it but what can be loaded again.
 */
export interface Telling {
  contents(told: Told): Promise<Answer<Contents>>
  /** The report as one page; `look` as on the command line. */
  report(told: Told, look: LookName | 'system'): Promise<Answer<string>>
  /** The answer alone, on one page. */
  answerPage(told: Told, look: LookName | 'system'): Promise<Answer<string>>
  /** A zip of the text and its pictures. */
  markdown(told: Told, toPng: ToPng, onProgress: OnProgress): Promise<Answer<Blob>>
  /** An SVG with its typeface inside. */
  figure(told: Told, asked: FigureAsked): Promise<Answer<string>>
  /** A zip; `licence` as on the command line. */
  dataPackage(
    told: Told,
    asked: { readonly licence: string; readonly author: string },
    onProgress: OnProgress,
  ): Promise<Answer<Blob>>
  /** Where the recordings lie in a film, by its sound. */
  sync(told: Told, name: string, sound: Sound): Promise<Answer<Sync>>
  /** One specimen in a film, by hand; without a length the film ends after its result. */
  placed(
    told: Told,
    specimen: string,
    film: { readonly name: string; readonly lengthS: number | null; readonly offsetS: number },
  ): Promise<Answer<Sync>>
  /** Size and frames of a film. */
  film(file: Blob, name: string): Promise<Answer<FilmFacts>>
  captions(
    told: Told,
    sync: Sync,
    asked: { readonly form: 'vtt' | 'srt'; readonly perSecond: number },
  ): Promise<Answer<string>>
  /** A transparent WebM, as long as its film, exact to the frames of `film` where it is given. */
  overlay(
    told: Told,
    sync: Sync,
    asked: OverlayAsked,
    film: FilmFacts | null,
    onProgress: OnProgress,
  ): Promise<Answer<Blob>>
  /** The same as a zip of PNG pictures, one a frame, and the time of each. */
  overlayPictures: Telling['overlay']
  walkClip(told: Told, asked: WalkAsked, onProgress: OnProgress): Promise<Answer<Blob>>
  /** A zip of a picture for each step, and the sentences to say over them. */
  walkPictures(told: Told, asked: WalkAsked, toPng: ToPng, onProgress: OnProgress): Promise<Answer<Blob>>
}
