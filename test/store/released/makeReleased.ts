// Makes test/store/released/VERSION/, once, for a version after which stores are written by another package
// or in another way; an old folder is never made anew. It holds a store as the program left it when it was
// killed: the database and its log of changes (`-wal`), and what was in them. From the project's folder: node
// -e "import('vite').then(v => v.runnerImport('./test/store/released/makeReleased.ts', { configFile: false
// }))"
import { copyFile, mkdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { gunzipSync } from 'node:zlib'
import { SCHEMA_VERSION } from '../../../src/store/schema/migrate.ts'
import { pretendRecording } from '../pretendRecording.ts'
import { good, inFolder, openAt } from '../stores.ts'
import { FORCES } from './forces.ts'

const project = fileURLToPath(new URL('../../..', import.meta.url))
const { version } = JSON.parse(await readFile(join(project, 'package.json'), 'utf8')) as { version: string }
const made = join(project, 'test', 'store', 'released', version)

await inFolder(async folder => {
  const store = await openAt(folder)
  const rig = good(await store.rigs.create({ name: 'Bänk 3 „Nord“', document: { name: 'bench' } }))
  good(
    await store.calibrations.save({
      rigId: rig.id,
      madeAt: '2026-01-02T03:04:05.000Z',
      document: { class: '1', coefficients: [-0.1, 1 / 3, 5e-324] },
    }),
  )
  for (const [step, values] of FORCES.entries()) {
    const specimen = good(
      await store.specimens.named({
        study: 'Handles',
        variant: `fix ${step % 2}`,
        specimen: `piece ${step}`,
      }),
    )
    good(
      await store.recordings.save({
        ...pretendRecording(`log ${step}.csv`, values),
        source: 'log',
        specimenId: specimen.id,
        id: `recording-${step}`,
      }),
    )
    good(await store.notes.add({ kind: 'specimen', id: specimen.id }, `note ${step}: 12 % feucht ✓`))
  }
  good(await store.settings.set('unit', 'kgf'))
  const archive = join(folder, 'all.gz')
  good(await store.care.exportAll(archive))
  const end =
    gunzipSync(await readFile(archive))
      .toString()
      .trimEnd()
      .split('\n')
      .at(-1) ?? ''
  await mkdir(made, { recursive: true })
  await writeFile(
    join(made, 'contents.json'),
    `${JSON.stringify({ schema: SCHEMA_VERSION, ...(JSON.parse(end) as object) }, null, 2)}\n`,
  )
  for (const tail of ['', '-wal'])
    await copyFile(join(folder, `tenterhook.sqlite${tail}`), join(made, `tenterhook.sqlite${tail}`))
  await store.close()
})
