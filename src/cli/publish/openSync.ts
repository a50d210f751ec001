import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Placement, Sync } from '../../publish/sync/document.ts'
import { nudged, placedByHand, placementsOf } from '../../publish/sync/place.ts'
import { readBytes } from '../files.ts'
import type { ClipTarget, ClipTargets } from './clipTarget.ts'

export interface PlaceFlags {
  readonly sync?: string
  readonly offset?: number
  readonly nudge?: number
}

export interface PlacedTarget extends ClipTarget {
  readonly placements: readonly Placement[]
}

/** The sync document of a file, checked against its schema. */
export async function openSync(path: string): Promise<Outcome<Sync>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  // The schema is loaded only where there is something to check.
  const { parseSync } = await import('../../publish/sync/document.ts')
  return parseSync(new TextDecoder().decode(bytes.value), path)
}

/**
 * Where each recording lies in the clip: by `--sync`, else by hand. The clip's length is the sync document's, where
 * there is one. A recording without an accepted place is a problem where it was asked for by name, or where none has one;
 * else the clip shows others of its study.
 */
export async function placeTargets(
  { targets, named }: ClipTargets,
  { sync, offset, nudge = 0 }: PlaceFlags,
): Promise<Outcome<{ placed: readonly PlacedTarget[]; clipLengthS: number | null }>> {
  if (sync === undefined) {
    if (targets.length !== 1)
      return wrong({
        where: '--offset',
        what: `one offset cannot place ${targets.length} specimens.`,
        cure: 'Find their places with `tenterhook sync` and give --sync FILE; logs of one specimen are joined by --specimen, and --only names one of a study.',
      })
    const placed = targets.map(target => ({
      ...target,
      placements: [placedByHand(target.recording, (offset ?? 0) + nudge)],
    }))
    return fine({ placed, clipLengthS: null })
  }
  const opened = await openSync(sync)
  if (!opened.ok) return opened
  const placed = targets.map(target => ({
    ...target,
    placements: placementsOf(opened.value, target.recording).map(p => (nudge === 0 ? p : nudged(p, nudge))),
  }))
  const missing = placed.filter(p => p.placements.length === 0)
  if (missing.length === 0 || (!named && missing.length < placed.length)) {
    const seen = placed.filter(p => p.placements.length > 0)
    return fine({ placed: seen, clipLengthS: opened.value.clip.lengthS })
  }
  return wrong(
    ...missing.map(({ recording }) => ({
      where: `${sync}, ${recording.name}`,
      what: opened.value.placements.some(p => p.recording.sha256 === recording.sha256)
        ? 'its place in the clip is not confident and not accepted.'
        : 'it has no place in this clip.',
      cure: 'Run `tenterhook sync` with this log and --accept or --nudge, or leave the log out.',
    })),
  )
}
