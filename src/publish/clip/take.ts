import type { Placement } from '../sync/document.ts'
import { clipTimeAt, recordingTimeAt } from '../sync/place.ts'
import type { ClipTrack } from './track.ts'

/** A specimen's recording, or a stretch of it, within a clip. */
export interface Take {
  readonly track: ClipTrack
  /** The two clocks, and the stretch of the recording that they hold for. */
  readonly place: Pick<Placement, 'anchor' | 'ratePpm' | 'nudgeS' | 'fromS' | 'toS'>
}

/** How long the result stands after a recording has ended, where nothing else begins. */
export const RESULT_S = 4

const beginsS = ({ place }: Take): number => clipTimeAt(place, place.fromS)
const endsS = ({ place }: Take): number => clipTimeAt(place, place.toS)

/**
 * What is seen at a moment of the clip: the last take that had begun, until its end has stood for a while,
 * and the time of its recording; `null` where none is.
 */
export function seenTake(
  takes: readonly Take[],
  clipS: number,
): { readonly take: Take; readonly atS: number } | null {
  let seen: Take | null = null
  for (const take of takes) {
    const isOn = clipS >= beginsS(take) && clipS < endsS(take) + RESULT_S
    if (isOn && (seen === null || beginsS(take) >= beginsS(seen))) seen = take
  }
  if (seen === null) return null
  const { place, track } = seen
  const atS = recordingTimeAt(place, clipS)
  // What goes on in another stretch is not known here: the last reading stands.
  return { take: seen, atS: place.toS < track.endS ? Math.min(atS, place.toS) : atS }
}

/** Where the last take has been shown to its end. */
export const takesEndS = (takes: readonly Take[]): number =>
  Math.max(0, ...takes.map(take => endsS(take) + RESULT_S))
