import { isDeepStrictEqual } from 'node:util'
import type { Captured } from '../../capture/index.ts'
import { applyRig, calibrationFor, forceByCalibration } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Store } from '../../store/index.ts'

/** Force of a line of counts, for the live figures, by the rig's latest calibration; `null` where it has none of counts. */
export function countsToForce(rig: Rig | null): ((counts: number) => number) | null {
  const calibration = rig === null ? null : calibrationFor(rig, 'counts')
  return calibration === null ? null : counts => forceByCalibration(calibration, counts)
}

/** The captured recording, read again with the rig's calibration, as the store reads it with the rig that is kept. */
export async function readWithRig(captured: Captured, rig: Rig | null): Promise<Captured> {
  if (rig === null) return captured
  const { readRecording } = await import('../../core/reading/readRecording.ts')
  const applied = applyRig(captured.recording, rig, captured.startedAt.slice(0, 10))
  if (!applied.ok) return { ...captured, reading: applied }
  const { recording, scale, warnings } = applied.value
  const reading = readRecording(recording, {
    scale,
    capacityN: rig.cell.capacityN ?? null,
    strokeMm: rig.strokeMm ?? null,
    elements: captured.elements,
  })
  return { ...captured, reading: fine({ ...reading, warnings: [...reading.warnings, ...warnings] }) }
}

/**
 * The id of this rig in the store. One that says the same is used again; else it is kept as a new one, with a number
 * behind its name where that is taken: what older recordings were read with stays as it was.
 */
export async function keepRig(store: Store, rig: Rig): Promise<Outcome<string>> {
  const { parseRig } = await import('../../core/calibration/rig.ts')
  const kept = await store.rigs.list()
  const same = kept.find(({ name, document }) => {
    const parsed = parseRig(JSON.stringify(document), name)
    return parsed.ok && isDeepStrictEqual(parsed.value, rig)
  })
  if (same) return fine(same.id)
  const taken = new Set(kept.map(({ name }) => name))
  let name = rig.name
  for (let number = 2; taken.has(name); number++) name = `${rig.name} (${number})`
  const created = await store.rigs.create({ name, document: rig })
  return created.ok ? fine(created.value.id) : created
}
