import { DEMO, demoRig, demoStudy } from '../../capture/pretend/index.ts'
import type { Rig as RigDocument } from '../../core/calibration/rig.ts'
import { writeCsv } from '../../logs/index.ts'
import type { Rig, Study } from '../../server/apiTypes.ts'
import type { Backend } from '../data/backend.ts'

/**
 * Makes the invented study *Carrier-bag handles* where this app keeps its studies, as a person would have: variants,
 * specimens, logs, readings. One of its name is left as it is. `onProgress`: specimens done, of all.
 */
export async function fillDemo(
  backend: Backend,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<Study> {
  const known = (await backend.studies.list()).find(study => study.name === DEMO.title)
  if (known) return known
  const study = await backend.studies.create({
    name: DEMO.title,
    question: DEMO.question,
    method: DEMO.method,
    failureModes: [...DEMO.failureModes],
    plannedPerVariant: DEMO.plannedPerVariant,
    equivalents: DEMO.equivalents.map(equivalent => ({ ...equivalent })),
  })
  const { rig, check } = demoRig()
  const rigId = (await rigOfDemo(backend, rig)).id
  await backend.checks.keep({ rigId, calibrationId: null, madeAt: check.at, document: check })
  const variantIds = new Map<string, string>()
  const specimens = demoStudy(DEMO.seed)
  for (const [at, { specimen: name, logs, row }] of specimens.entries()) {
    onProgress(at, specimens.length)
    const variantId =
      variantIds.get(row.variant) ?? (await backend.variants.create(study.id, { name: row.variant })).id
    variantIds.set(row.variant, variantId)
    const specimen = await backend.specimens.create(study.id, {
      name,
      variantId,
      status: 'pulled',
      elements: row.elements,
      widthMm: row.width_mm,
      failureMode: row.mode,
      note: row.note,
    })
    for (const { file, recording } of logs) {
      const bytes = new TextEncoder().encode([...writeCsv(recording, { unit: DEMO.logUnit })].join(''))
      // Kept on no specimen first: put on one, it would be read at once, and once more below.
      const { entry, isNew } = await backend.recordings.keep({
        name: file,
        bytes,
        options: {},
        specimenId: null,
        rigId,
      })
      if (isNew) await backend.recordings.place(entry.id, specimen.id)
    }
    await backend.readings.keep(specimen.id, [])
  }
  return study
}

/** The rig of the demo, made where there is none of its name yet. */
async function rigOfDemo(backend: Backend, document: RigDocument): Promise<Rig> {
  const known = (await backend.rigs.list()).find(({ name }) => name === document.name)
  return known ?? backend.rigs.create({ name: document.name, document })
}
