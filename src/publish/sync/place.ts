import type { Recording } from '../../core/recording.ts'
import type { Placement, Sync } from './document.ts'

type Clocks = Pick<Placement, 'anchor' | 'ratePpm' | 'nudgeS'>

/** Clip time of a time of the recording. */
export const clipTimeAt = ({ anchor, ratePpm, nudgeS }: Clocks, recordingS: number): number =>
  anchor.clipS + nudgeS + (recordingS - anchor.recordingS) * (1 + ratePpm * 1e-6)

/** Recording time of a time of the clip. */
export const recordingTimeAt = ({ anchor, ratePpm, nudgeS }: Clocks, clipS: number): number =>
  anchor.recordingS + (clipS - anchor.clipS - nudgeS) / (1 + ratePpm * 1e-6)

/** Half-width of the 95 % interval of the clip time of a time of the recording; `null`: placed by hand. */
export const uncertaintyAt = (
  {
    anchor,
    uncertaintyS,
    rateUncertaintyPpm,
  }: Pick<Placement, 'anchor' | 'uncertaintyS' | 'rateUncertaintyPpm'>,
  recordingS: number,
): number | null =>
  uncertaintyS === null
    ? null
    : Math.hypot(uncertaintyS, (recordingS - anchor.recordingS) * (rateUncertaintyPpm ?? 0) * 1e-6)

/** What of the recording is seen at a time of the clip, in recording time; `null` where it is not running. */
export function seenAt(placements: readonly Placement[], clipS: number): number | null {
  for (const placement of placements) {
    const recordingS = recordingTimeAt(placement, clipS)
    if (recordingS >= placement.fromS && recordingS <= placement.toS) return recordingS
  }
  return null
}

/** The accepted placements of a recording in a clip, in the order of the clip. */
export const placementsOf = (
  { placements }: Sync,
  { name, sha256 }: Pick<Recording, 'name' | 'sha256'>,
): Placement[] =>
  placements
    .filter(p => p.accepted && (sha256 === '' ? p.recording.name === name : p.recording.sha256 === sha256))
    .sort((a, b) => clipTimeAt(a, a.fromS) - clipTimeAt(b, b.fromS))

/**
 * A placement by hand: the recording's first reading is at `offsetS` of the clip (below 0: it began before
 * the clip).
 */
export function placedByHand({ name, sha256, timeS }: Recording, offsetS: number): Placement {
  const fromS = timeS[0] ?? 0
  return {
    recording: { name, sha256 },
    fromS,
    toS: timeS.at(-1) ?? fromS,
    by: 'hand',
    anchor: { recordingS: fromS, clipS: offsetS },
    ratePpm: 0,
    rateUncertaintyPpm: null,
    uncertaintyS: null,
    confidence: null,
    confident: false,
    accepted: true,
    nudgeS: 0,
    offsetS,
    matched: [],
    unheard: [],
  }
}

/** The placement moved by hand, later for a positive `byS`; whoever moves it has looked, and accepts it. */
export const nudged = (placement: Placement, byS: number): Placement => ({
  ...placement,
  nudgeS: placement.nudgeS + byS,
  offsetS: placement.offsetS + byS,
  accepted: true,
})
