import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { fileProblem } from '../core/fileProblem.ts'
import { importArchive } from './archive/import.ts'
import { archivePieces, writeArchive } from './archive/write.ts'
import { backup } from './care/backup.ts'
import { verifyStore } from './care/verify.ts'
import type { Engine } from './engine/engine.ts'
import { StoreFault } from './fault.ts'
import { asFault, guarded } from './guarded.ts'
import { ownerOnly } from './ownerOnly.ts'
import { type StorePlace, stamped } from './place.ts'
import { migrate, SCHEMA_VERSION } from './schema/migrate.ts'
import type { Store } from './store.ts'
import { edits } from './subjects/edits.ts'
import { notes } from './subjects/notes.ts'
import { photos } from './subjects/photos.ts'
import { readings } from './subjects/readings.ts'
import { recordings } from './subjects/recordings.ts'
import { calibrations, checks, rigs } from './subjects/rigs.ts'
import { settings } from './subjects/settings.ts'
import { specimens } from './subjects/specimens.ts'
import { studies } from './subjects/studies.ts'
import { variants } from './subjects/variants.ts'

/**
 * Opens the store at a place, making it where there is none and bringing an older one up to date (after a copy of it,
 * `before-version-N-….sqlite`, was laid beside it).
 * @throws StoreFault where it cannot be opened, is damaged or was written by a newer program
 */
export async function openStore(place: StorePlace): Promise<Store> {
  const { openEngine } = await import('./engine/open.ts')
  await makeFolder(place.folder)
  await ownerOnly(place.file)
  const engine = await openEngine(place)
  try {
    await migrate(engine, {
      async beforeChange(from) {
        const copy = join(place.folder, stamped(`before-version-${from + 1}`))
        await ownerOnly(copy)
        await engine.copyTo(copy)
      },
    })
  } catch (error) {
    await engine.close()
    throw asFault(engine, error)
  }
  return storeOn(engine, place.folder)
}

/** The store on an engine that is at the newest schema. */
function storeOn(engine: Engine, folder: string): Store {
  const kept = recordings(engine)
  return guarded(engine, {
    place: engine.place,
    folder,
    studies: studies(engine),
    variants: variants(engine),
    specimens: specimens(engine),
    edits: edits(engine),
    recordings: kept,
    readings: readings(engine),
    rigs: rigs(engine),
    calibrations: calibrations(engine),
    checks: checks(engine),
    notes: notes(engine),
    photos: photos(engine),
    settings: settings(engine),
    care: {
      backup: path => backup(engine, SCHEMA_VERSION, path),
      exportAll: path => writeArchive(engine, SCHEMA_VERSION, path),
      archive: () => archivePieces(engine, SCHEMA_VERSION),
      importAll: path => importArchive(engine, folder, path),
      verify: onProgress => verifyStore(engine, kept, onProgress),
    },
    close: () => engine.close(),
  })
}

async function makeFolder(folder: string): Promise<void> {
  try {
    // Pulls may be a maker's own business: the folder is for its owner only.
    await mkdir(folder, { recursive: true, mode: 0o700 })
  } catch (error) {
    throw new StoreFault(fileProblem(folder, error), error)
  }
}
