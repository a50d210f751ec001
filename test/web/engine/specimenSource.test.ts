import { expect, test } from 'vitest'
import type { RecordingEntry, Rig, Specimen, Study, Variant } from '../../../src/server/apiTypes.ts'
import { specimenSource } from '../../../src/web/engine/specimenSource.ts'

const entry = (id: string, place: number, more: Partial<RecordingEntry> = {}): RecordingEntry => ({
  id,
  name: `${id}.csv`,
  sha256: '',
  samples: 10,
  logBytes: 10,
  startedAt: null,
  addedAt: '2026-05-04T14:20:00Z',
  startS: 0,
  endS: 1,
  forceUnit: 'N',
  timeFrom: 'column',
  source: 'log',
  device: '',
  state: 'complete',
  rigId: null,
  calibrationId: null,
  calibration: null,
  capacityN: null,
  study: null,
  specimen: { id: 's', name: 's' },
  place,
  setAside: null,
  ...more,
})
const study = { id: 'study', elements: 4 } as Study
const variants = [{ id: 'v', name: 'paste', elements: 6 }] as Variant[]
const specimens = [{ id: 's', name: 'paste 1', variantId: 'v', elements: null, note: '' }] as Specimen[]
const rigs = [{ id: 'r', name: 'bench', document: { cell: {} } }] as unknown as Rig[]

test('the recordings in their order, those set aside left out, the first rig among them, the first day', () => {
  const recordings = [
    entry('b', 1, { rigId: 'r', calibration: '2026-05-01 counts', startedAt: '2026-05-06T00:00:00Z' }),
    entry('a', 0, { startedAt: '2026-05-05T00:00:00Z' }),
    entry('c', 2, { setAside: { at: '', why: '' } }),
    entry('d', 0, { specimen: { id: 'other', name: '' } }),
  ]
  expect(specimenSource({ study, variants, specimens, recordings }, 's', rigs)).toMatchObject({
    source: {
      recordingIds: ['a', 'b'],
      rig: { name: 'bench' },
      day: '2026-05-05',
      calibration: '2026-05-01 counts',
    },
    facts: { name: 'paste 1', variant: 'paste', elements: 6 },
  })
})

test('without a recording that counts there is nothing to read', () => {
  const recordings = [entry('c', 2, { setAside: { at: '', why: '' } })]
  expect(specimenSource({ study, variants, specimens, recordings }, 's', rigs)).toBeNull()
})
