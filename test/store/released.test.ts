import { readFileSync } from 'node:fs'
import { cp, readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { gunzipSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { writeArchive } from '../../src/store/archive/write.ts'
import { openSqlite } from '../../src/store/engine/sqlite/open.ts'
import { FORCES } from './released/forces.ts'
import { good, inFolder, openAt } from './stores.ts'

const released = fileURLToPath(new URL('released', import.meta.url))
const versions = (await readdir(released, { withFileTypes: true }))
  .filter(entry => entry.isDirectory())
  .map(entry => entry.name)

test('a store of the version before is kept', () => {
  expect(versions).toContain('0.1.0')
})

describe.each(versions)('a store that version %s left when it was killed', version => {
  const { schema, rows, sha256 } = JSON.parse(
    readFileSync(join(released, version, 'contents.json'), 'utf8'),
  ) as { schema: number; rows: number; sha256: string }

  test('holds what that version said it held, to the last byte', () =>
    inFolder(async folder => {
      await cp(join(released, version), folder, { recursive: true })
      const engine = openSqlite(join(folder, 'tenterhook.sqlite'))
      expect(await engine.faults()).toEqual([])
      good(await writeArchive(engine, schema, join(folder, 'all.gz')))
      await engine.close()
      const end = gunzipSync(await readFile(join(folder, 'all.gz')))
        .toString()
        .trimEnd()
        .split('\n')
        .at(-1)
      expect(JSON.parse(end ?? '')).toEqual({ rows, sha256 })
    }))

  test('opens, and gives back the same bits', () =>
    inFolder(async folder => {
      await cp(join(released, version), folder, { recursive: true })
      const store = await openAt(folder)
      for (const [step, forces] of FORCES.entries()) {
        const { forceN } = good(await store.recordings.load(`recording-${step}`))
        expect(Buffer.from(forceN.buffer).equals(Buffer.from(Float64Array.from(forces).buffer))).toBe(true)
      }
      expect((await store.rigs.list()).map(rig => rig.name)).toEqual(['Bänk 3 „Nord“'])
      expect((await store.calibrations.list())[0]?.document).toMatchObject({
        coefficients: [-0.1, 1 / 3, 5e-324],
      })
      expect((await store.care.verify()).findings).toEqual([])
      await store.close()
    }))
})
