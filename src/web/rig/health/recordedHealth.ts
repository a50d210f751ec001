import type { Rig } from '../../../core/calibration/rig.ts'
import { entryOf, type HealthEntry } from '../../../core/health/entry.ts'
import type { HealthRecord } from '../../../core/health/types.ts'
import type { ForceUnit } from '../../../core/units/force.ts'
import type { RecordingEntry } from '../../../server/apiTypes.ts'
import type { Backend } from '../../data/backend.ts'
import { asOwnRigReads, judgeSteps } from './stepRecords.ts'

/** What the rests of one day's recordings show of a rig. */
export interface RecordedDay {
  /** ISO 8601. */
  readonly day: string
  readonly recordings: number
  readonly found: HealthEntry
}

/** The latest days that are looked at, recordings of each, and readings of a recording: enough to tell, and quickly. */
const MOST_DAYS = 12
const MOST_A_DAY = 3
const MOST_READINGS = 200_000
const LOOKED_THROUGH = 200

/** Days that were judged already: recordings never change, and a rig's calibrations rarely. */
const judged = new Map<string, HealthEntry | null>()

/**
 * The rig's health by its ordinary recordings, day by day, the latest first: their rests feed the same judgement as a
 * check does. Days whose recordings cannot be judged are left out, and recordings whose day is not known.
 */
export async function recordedHealth(
  recordings: Pick<Backend['recordings'], 'list' | 'samples'>,
  rigId: string,
  rig: Rig,
  unit: ForceUnit,
): Promise<readonly RecordedDay[]> {
  const { items } = await recordings.list({ limit: LOOKED_THROUGH })
  const days = new Map<string, RecordingEntry[]>()
  for (const entry of items) {
    if (entry.rigId !== rigId || entry.setAside !== null || entry.samples > MOST_READINGS) continue
    // The day on which a log was taken in says nothing of when it was recorded.
    const day = entry.startedAt?.slice(0, 10)
    if (day === undefined) continue
    days.set(day, [...(days.get(day) ?? []), entry])
  }
  const latest = [...days].sort(([a], [b]) => (a < b ? 1 : -1)).slice(0, MOST_DAYS)
  const out: RecordedDay[] = []
  for (const [day, entries] of latest) {
    const some = entries.slice(0, MOST_A_DAY)
    const key = [rigId, rig.calibrations.length, unit, ...some.map(e => e.id)].join(' ')
    if (!judged.has(key)) judged.set(key, await foundOn(day, some, recordings, rig, unit))
    const found = judged.get(key)
    if (found) out.push({ day, recordings: some.length, found })
  }
  return out
}

async function foundOn(
  day: string,
  entries: readonly RecordingEntry[],
  recordings: Pick<Backend['recordings'], 'samples'>,
  rig: Rig,
  unit: ForceUnit,
): Promise<HealthEntry | null> {
  const all = await Promise.all(entries.map(({ id }) => recordings.samples(id)))
  const read = await Promise.all(all.map(recording => asOwnRigReads(recording, rig)))
  // Of one day only what is on one scale can be judged together.
  const records = read
    .filter(r => r.forceUnit === read[0]?.forceUnit)
    .map((recording): HealthRecord => ({ step: 'ordinary', recording }))
  const health = await judgeSteps(records, rig, null, unit)
  return health.ok ? entryOf(health.value, `${day}T00:00:00.000Z`) : null
}
