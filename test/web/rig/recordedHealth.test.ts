import { expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import type { RecordingEntry } from '../../../src/server/apiTypes.ts'
import { recordedHealth } from '../../../src/web/rig/health/recordedHealth.ts'
import { good } from '../../store/stores.ts'

const rig = good(parseRig(JSON.stringify({ converter: { rateHz: 80 } }), 'rig'))
const pull = (seed: number, lostShare: number) =>
  makePull({ kind: 'slips', seed, change: spec => ({ ...spec, troubles: { lostShare } }) }).recording
const samples = { well: pull(5, 0), lossy: pull(6, 0.03), other: pull(7, 0.03) }
const entry = (id: string, startedAt: string | null, more: Partial<RecordingEntry> = {}) =>
  ({
    id,
    startedAt,
    addedAt: startedAt ?? '2031-05-20T10:00:00Z',
    rigId: 'r1',
    setAside: null,
    samples: 5000,
    ...more,
  }) as RecordingEntry

const recordings = (entries: readonly RecordingEntry[], asked: string[]) => ({
  list: async () => ({ items: entries, next: null }),
  samples: async (id: string) => {
    asked.push(id)
    return samples[id as keyof typeof samples]
  },
})

test('the rests of ordinary recordings are judged day by day, those of this rig alone, and once', async () => {
  const asked: string[] = []
  const kept = recordings(
    [
      entry('well', '2031-05-04T10:00:00Z'),
      entry('lossy', '2031-05-11T10:00:00Z'),
      entry('other', '2031-05-12T10:00:00Z', { rigId: 'r2' }),
      entry('other', '2031-05-13T10:00:00Z', { setAside: { at: '', why: 'spoiled' } }),
      entry('other', '2031-05-14T10:00:00Z', { samples: 10_000_000 }),
      // Nobody knows when it was recorded.
      entry('other', null),
    ],
    asked,
  )
  const days = await recordedHealth(kept, 'r1', rig, 'N')
  expect(days.map(d => d.day)).toEqual(['2031-05-11', '2031-05-04'])
  expect(days[0]!.found.findings.map(f => f.code)).toContain('lost')
  expect(days[1]!.found.findings.map(f => f.code)).not.toContain('lost')
  expect(days[1]!.found.noise).toBeGreaterThan(0)
  await recordedHealth(kept, 'r1', rig, 'N')
  expect(asked).toEqual(['lossy', 'well'])
})
