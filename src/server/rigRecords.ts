import { parseRig, type Rig } from '../core/calibration/rig.ts'
import { asRigReads } from '../core/health/judgeOnRig.ts'
import type { HealthRecord } from '../core/health/types.ts'
import { printable } from '../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { RecordingEntry, Store, Rig as StoredRig } from '../store/index.ts'

/** The latest recordings that are taken, and readings of one: enough to tell, and quickly. */
const MOST_RECORDINGS = 12
const MOST_READINGS = 200_000
const PAGE = 500

/** A rig of the store, its description as it is kept and read, and its latest ordinary recordings. */
export interface StoredRigRecords extends StoredRig {
  readonly rig: Rig
  readonly records: readonly HealthRecord[]
}

/**
 * The latest ordinary recordings of a rig of the store, whose rests feed its judgement, on the scale of the latest of
 * them; none where it has none. `named`: its id, or its name. Problem: no such rig.
 */
export async function rigRecords(store: Store, named: string): Promise<Outcome<StoredRigRecords>> {
  const rigs = await store.rigs.list()
  const stored = rigs.find(({ id }) => id === named) ?? rigs.find(({ name }) => name === named)
  if (stored === undefined)
    return wrong({
      where: printable(named, 60),
      what: 'the store has no rig of this name.',
      cure:
        rigs.length === 0
          ? 'Add one in the place Rig.'
          : `Its rigs are ${rigs.map(({ name }) => printable(name, 60)).join(', ')}.`,
    })
  const rig = parseRig(JSON.stringify(stored.document), `rig “${stored.name}”`)
  if (!rig.ok) return rig
  const records: HealthRecord[] = []
  for (const { id } of await latestOf(store, stored.id)) {
    const loaded = await store.recordings.load(id)
    if (!loaded.ok) return loaded
    const recording = asRigReads(loaded.value, rig.value)
    if (records.length === 0 || recording.forceUnit === records[0]!.recording.forceUnit)
      records.push({ step: 'ordinary', recording })
  }
  return fine({ ...stored, rig: rig.value, records })
}

/** Why the recordings of a rig tell nothing: there are none. */
export const noRecordings = (name: string): Problem => ({
  where: `rig “${printable(name, 60)}”`,
  what: 'the store has no recording of it that can be judged.',
  cure: 'Record a pull on it, or say at a recording that it was made on this rig.',
})

/** However many recordings of other rigs came since. */
async function latestOf(store: Store, wantedRigId: string): Promise<readonly RecordingEntry[]> {
  const own: RecordingEntry[] = []
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      limit: PAGE,
      ...(after === null ? {} : { after }),
    })
    own.push(
      ...page.items.filter(
        ({ rigId, samples, setAside }) =>
          rigId === wantedRigId && setAside === null && samples <= MOST_READINGS,
      ),
    )
    after = page.next
  } while (after !== null && own.length < MOST_RECORDINGS)
  return own.slice(0, MOST_RECORDINGS)
}
