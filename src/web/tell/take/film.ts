import type { FilmFacts } from '../../../publish/clip/filmFacts.ts'
import { frameCount, frameTimeS } from '../../../publish/clip/frameTimes.ts'

/** A film, or the sound of one, and what is known of it. */
export interface Film {
  readonly name: string
  /** `null` for a sound alone, and for a container that cannot be read here. */
  readonly facts: FilmFacts | null
}

export const lengthOf = (film: Film | null): number | null =>
  film?.facts ? frameTimeS(film.facts.times, frameCount(film.facts.times)) : null
