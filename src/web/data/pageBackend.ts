import { ENGINE_VERSION } from '../../core/version.ts'
import type { PageEngine } from '../line/types.ts'
import type { Backend } from './backend.ts'
import { pageNotes, pagePhotos, pageSettings } from './page/beside.ts'
import { pageEdits } from './page/edits.ts'
import { historyOf, keepReading } from './page/readings.ts'
import { pageRecordings } from './page/recordings.ts'
import { pageCalibrations, pageChecks, pageRigs } from './page/rigs.ts'
import { pageSpecimens } from './page/specimens.ts'
import { pageStudies } from './page/studies.ts'
import { pageVariants } from './page/variants.ts'
import { pageWhole } from './page/whole.ts'

/** Studies in the browser's own storage: for the page that opens from disk, where no server is. */
export const pageBackend = (engine: PageEngine): Backend => ({
  kind: 'page',
  about: async () => ({ version: ENGINE_VERSION, store: '' }),
  studies: pageStudies,
  variants: pageVariants,
  specimens: pageSpecimens(engine),
  edits: pageEdits(engine),
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
  maker: null,
  whole: pageWhole(engine),
  settings: pageSettings,
})
