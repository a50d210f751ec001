import { DEMO, demoRig, demoStudy } from '../capture/pretend/index.ts'
import { fine, type Outcome } from '../core/problem.ts'
import { readLog, writeCsv } from '../logs/index.ts'
import type { Store, Study } from '../store/index.ts'
import { keepRig } from './desk/keepRig.ts'
import { keepReading } from './specimenReading.ts'

/**
 * The invented study *Carrier-bag handles* in a store, as a person would have kept it. One that is there already, by its
 * name, is left as it is, with what was changed in it.
 */
export async function keepDemoStudy(store: Store): Promise<Outcome<Study>> {
  const known = await store.studies.byName(DEMO.title)
  if (known) return fine(known)
  const { title: name, question, method, failureModes, plannedPerVariant, equivalents } = DEMO
  const fields = { name, question, method, failureModes, plannedPerVariant, equivalents }
  const study = await store.studies.create(fields)
  if (!study.ok) return study
  const { rig, check } = demoRig()
  const rigId = await keepRig(store, rig)
  if (!rigId.ok) return rigId
  const checked = await store.checks.save({
    rigId: rigId.value,
    calibrationId: null,
    madeAt: check.at,
    document: check,
  })
  if (!checked.ok) return checked
  for (const { specimen: name, logs, row } of demoStudy(DEMO.seed)) {
    const specimen = await store.specimens.named({
      study: study.value.name,
      variant: row.variant,
      specimen: name,
    })
    if (!specimen.ok) return specimen
    const { id } = specimen.value
    const known = await store.specimens.update(id, {
      elements: row.elements,
      widthMm: row.width_mm,
      failureMode: row.mode,
      note: row.note,
      status: 'pulled',
    })
    if (!known.ok) return known
    for (const { file, recording } of logs) {
      const log = new TextEncoder().encode([...writeCsv(recording, { unit: DEMO.logUnit })].join(''))
      const asRead = readLog(log, file)
      if (!asRead.ok) return asRead
      const kept = await store.recordings.save({
        recording: asRead.value,
        log,
        source: 'log',
        specimenId: id,
        rigId: rigId.value,
      })
      if (!kept.ok) return kept
    }
    const read = await keepReading(store, id)
    if (!read.ok) return read
  }
  return study
}
