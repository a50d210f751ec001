// Makes test/store/versions/N.sqlite, once, when version N of the schema is released; an old file is never
// made anew. From the project's folder: node -e "import('vite').then(v =>
// v.runnerImport('./test/store/schema/makeVersion.ts', { configFile: false }))"
import { rmSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { DatabaseSync } from '@photostructure/sqlite'
import { openStore } from '../../../src/store/index.ts'
import { SCHEMA_VERSION } from '../../../src/store/schema/migrate.ts'
import { pretendRecording } from '../pretendRecording.ts'
import { good } from '../stores.ts'

const file = fileURLToPath(new URL(`../versions/${SCHEMA_VERSION}.sqlite`, import.meta.url))
const store = await openStore({
  engine: 'sqlite',
  folder: fileURLToPath(new URL('../versions', import.meta.url)),
  file,
})
const specimen = good(
  await store.specimens.named({ study: 'Handles', variant: 'paste', specimen: 'paste 1' }),
)
good(
  await store.recordings.save({
    ...pretendRecording('old.csv'),
    source: 'log',
    specimenId: specimen.id,
    id: 'old-one',
  }),
)
good(await store.notes.add({ kind: 'specimen', id: specimen.id }, 'kept'))
const rig = good(await store.rigs.create({ name: 'bench', document: { name: 'bench' } }))
good(
  await store.calibrations.save({
    rigId: rig.id,
    madeAt: '2026-01-02T03:04:05.000Z',
    document: { class: '1' },
  }),
)
await store.settings.set('unit', 'kgf')
await store.close()
// One plain file, so that nothing lies beside it in the repository.
const raw = new DatabaseSync(file)
raw.exec('pragma journal_mode = delete')
raw.exec('vacuum')
raw.close()
for (const tail of ['-wal', '-shm']) rmSync(file + tail, { force: true })
