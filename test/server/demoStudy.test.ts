import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { keepDemoStudy } from '../../src/server/demoStudy.ts'
import { openStore, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'

test('the demo has a described rig with a calibration and a daily check, and is recorded on it; it is kept once', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-demo-study-'))
  const store = await openStore(good(storePlace(folder, {})))
  try {
    const study = good(await keepDemoStudy(store))
    const rigs = await store.rigs.list()
    expect(rigs).toHaveLength(1)
    const { id, document } = rigs[0]!
    expect(document).toMatchObject({ cell: { capacityN: expect.any(Number) } })
    expect((document as { calibrations: unknown[] }).calibrations).toHaveLength(1)
    expect(await store.checks.list(id)).toHaveLength(1)
    const { items } = await store.recordings.list({ studyId: study.id, limit: 1000 })
    expect(items.length).toBeGreaterThan(0)
    expect(new Set(items.map(({ rigId }) => rigId))).toEqual(new Set([id]))

    expect(good(await keepDemoStudy(store)).id).toBe(study.id)
    expect(await store.studies.list()).toHaveLength(1)
  } finally {
    await store.close()
    await rm(folder, { recursive: true, force: true })
  }
}, 60_000)
