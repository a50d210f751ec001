import { ENGINE_VERSION } from '../../core/version.ts'
import type { Adjustment, StoredReading } from '../../server/apiTypes.ts'
import { specimenSource } from '../engine/specimenSource.ts'
import type { Engine } from '../engine/types.ts'
import type { Backend } from './backend.ts'
import { pageCalibrations, pageChecks, pageNotes, pagePhotos, pageRigs, pageSettings } from './page/beside.ts'
import { newId, nowIso, pageDb } from './page/db.ts'
import { entriesOf, historyOf, pageRecordings } from './page/recordings.ts'
import {
  changedSince,
  pageSpecimens,
  pageStudies,
  pageVariants,
  specimenOf,
  studyOf,
} from './page/studies.ts'
import { got, Trouble } from './trouble.ts'

/** Studies in the browser's own storage: for the page that opens from disk, where no server is. */
export const pageBackend = (engine: Engine): Backend => ({
  kind: 'page',
  about: async () => ({ version: ENGINE_VERSION, store: '' }),
  studies: pageStudies,
  variants: pageVariants,
  specimens: pageSpecimens,
  recordings: pageRecordings(engine),
  readings: {
    history: historyOf,
    keep: (specimenId, adjustments, basedOn) => keepReading(engine, specimenId, adjustments, basedOn),
  },
  rigs: pageRigs,
  calibrations: pageCalibrations,
  checks: pageChecks,
  notes: pageNotes,
  photos: pagePhotos,
  settings: pageSettings,
})

async function keepReading(
  engine: Engine,
  specimenId: string,
  adjustments: readonly Adjustment[],
  basedOn: string | null | undefined,
): Promise<StoredReading> {
  const db = await pageDb()
  const specimen = await specimenOf(specimenId)
  const [last] = await historyOf(specimenId)
  if (basedOn !== undefined && basedOn !== (last?.id ?? null))
    throw changedSince(`the reading of “${specimen.name}”`)
  const study = await studyOf(specimen.studyId)
  const variant =
    specimen.variantId === null ? null : ((await db.get('variants', specimen.variantId)) ?? null)
  const parts = {
    study,
    variants: variant ? [variant] : [],
    specimens: [specimen],
    recordings: await entriesOf({ specimenId }),
  }
  const asked = specimenSource(parts, specimenId, await db.getAll('rigs'))
  if (!asked)
    throw new Trouble([
      {
        where: `specimen “${specimen.name}”`,
        what: 'it has no recording yet.',
        cure: 'Drop its log on the page.',
      },
    ])
  const look = got(await engine.look({ ...asked, adjustments }))
  const stored: StoredReading = {
    id: newId(),
    specimenId,
    recordingIds: asked.source.recordingIds,
    madeAt: nowIso(),
    engine: look.reading.engine,
    adjustments,
    options: look.options,
    reading: look.reading,
  }
  await db.put('readings', stored)
  return stored
}
