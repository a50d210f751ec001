import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import type { Placement, Sync } from './document.ts'
import { type Match, type MatchOptions, matchPattern } from './matchPattern.ts'
import { type MomentPattern, momentPatterns } from './moments.ts'
import { clipTimeAt } from './place.ts'
import type { SoundEnvelope } from './soundEnvelope.ts'
import { findTransients } from './transients.ts'

/** A recording that may be in the clip, with its reading. */
export interface SyncTarget {
  readonly recording: Recording
  readonly reading: Reading
}

export interface SyncClipOptions extends MatchOptions {
  readonly name: string
  /** Take what is likely but not confident, too. */
  readonly accept?: boolean
}

interface Open extends SyncTarget {
  readonly pattern: MomentPattern
}

/**
 * Lays recordings into a clip by its sound. Each stretch with one time base is laid by itself; the surest
 * goes first, and since a rig pulls one specimen at a time, no other lies where it is.
 */
export function syncClip(
  targets: readonly SyncTarget[],
  sound: SoundEnvelope,
  { name, accept = false, ...options }: SyncClipOptions,
): Sync {
  const all = findTransients(sound)
  let transientS = Float64Array.from(all, t => t.atS)
  let open: Open[] = targets.flatMap(target =>
    momentPatterns(target.recording, target.reading).map(pattern => ({ ...target, pattern })),
  )
  const placements: Placement[] = []
  const matchOf = (o: Open): Match | null =>
    matchPattern(o.pattern.moments, transientS, sound.lengthS, options)
  for (;;) {
    const sure = open
      .map(o => ({ o, match: matchOf(o) }))
      .filter((m): m is { o: Open; match: Match } => m.match?.confident === true)
      .sort((a, b) => b.match.confidence - a.match.confidence)[0]
    if (!sure) break
    const placement = placementOf(sure.o, sure.match, accept)
    placements.push(placement)
    open = open.filter(o => o !== sure.o)
    const fromS = clipTimeAt(placement, placement.fromS)
    const toS = clipTimeAt(placement, placement.toS)
    transientS = transientS.filter(t => t < fromS || t > toS)
  }
  const notPlaced: Sync['notPlaced'] = []
  for (const o of open) {
    const match = matchOf(o)
    if (match && match.matched.length >= 2) placements.push(placementOf(o, match, accept))
    else
      notPlaced.push({
        recording: { name: o.recording.name, sha256: o.recording.sha256 },
        fromS: o.pattern.fromS,
        toS: o.pattern.toS,
        why: whyNot(o.pattern, all.length),
      })
  }
  return {
    document: 'tenterhook.sync',
    version: 1,
    clip: { name, lengthS: sound.lengthS, transients: all.length },
    placements: placements.sort((a, b) => a.offsetS - b.offsetS),
    notPlaced,
  }
}

function placementOf({ recording, pattern }: Open, match: Match, accept: boolean): Placement {
  const { anchor, ratePpm } = match
  const taps = match.matched.some(m => m.what === 'tap')
  const breaks = match.matched.some(m => m.what === 'break')
  return {
    recording: { name: recording.name, sha256: recording.sha256 },
    fromS: pattern.fromS,
    toS: pattern.toS,
    by: taps && breaks ? 'taps-and-breaks' : taps ? 'taps' : 'breaks',
    anchor,
    ratePpm,
    rateUncertaintyPpm: match.rateUncertaintyPpm,
    uncertaintyS: match.uncertaintyS,
    confidence: match.confidence,
    confident: match.confident,
    accepted: match.confident || accept,
    nudgeS: 0,
    offsetS: clipTimeAt({ anchor, ratePpm, nudgeS: 0 }, pattern.fromS),
    matched: match.matched.map(m => ({ ...m })),
    unheard: match.unheard.map(({ what, atS }) => ({ what, recordingS: atS })),
  }
}

function whyNot({ moments }: MomentPattern, transients: number): string {
  if (moments.length < 2)
    return moments.length === 0
      ? 'The recording shows no tap and no break to listen for.'
      : 'The recording shows only one tap or break, which fits anywhere.'
  return transients < 2
    ? 'There are not two clicks in the sound.'
    : 'No two of the taps and breaks are heard in the sound.'
}
