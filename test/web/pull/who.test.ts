import { expect, test } from 'vitest'
import type { OpenStudy } from '../../../src/web/data/backend.ts'
import { unanswered } from '../../../src/web/pull/ended.ts'
import { pitchHz } from '../../../src/web/pull/forceSound.ts'
import { liveDecimals, liveForce } from '../../../src/web/pull/liveMarks.ts'
import { strokeAlarm, strokeUse } from '../../../src/web/pull/strokeUse.ts'
import { inPullingOrder, nextName, plannedMean, toPull } from '../../../src/web/pull/whoIsNext.ts'

const specimen = (id: string, variantId: string, status = 'planned') => ({ id, name: id, variantId, status })
const study = (plan: unknown, recorded: readonly string[] = []) =>
  ({
    study: { plan },
    variants: [{ id: 'a' }, { id: 'b' }],
    specimens: [
      specimen('b-1', 'b'),
      specimen('a-2', 'a'),
      specimen('a-1', 'a'),
      specimen('b-2', 'b', 'left-out'),
    ],
    recordings: recorded.map(id => ({ specimen: { id }, setAside: null })),
  }) as unknown as OpenStudy
const names = (list: readonly { name: string }[]) => list.map(({ name }) => name)

test('the plan says who is next; those it does not name come after; what is recorded or left out is passed over', () => {
  const plan = { order: ['b-1', 'a-1'] }
  expect(names(inPullingOrder(study(plan)))).toEqual(['b-1', 'a-1', 'a-2', 'b-2'])
  expect(names(toPull(study(plan, ['b-1'])))).toEqual(['a-1', 'a-2'])
})

test.each([[null], [undefined], ['x'], [{ order: 5 }], [{ order: [1, null] }]])(
  'without a plan that makes sense (%j) it goes by variant',
  plan => {
    expect(names(inPullingOrder(study(plan)))).toEqual(['a-2', 'a-1', 'b-1', 'b-2'])
  },
)

test('the planned peak is taken only where it is one', () => {
  expect(plannedMean({ scatter: { mean: 42 }, unit: 'N' })).toEqual({ value: 42, unit: 'N' })
  for (const plan of [null, {}, { scatter: { mean: null }, unit: 'N' }, { scatter: { mean: -1 }, unit: 'N' }])
    expect(plannedMean(plan)).toBeNull()
})

test('one more specimen takes the next free number, however the others are written', () => {
  expect(nextName('paste', [{ name: 'paste-1' }, { name: 'paste 2' }], 'specimen')).toBe('paste-3')
  expect(nextName(null, [], 'specimen')).toBe('specimen-1')
})

test('stroke is known by travel, else turns, else the speed of the drive; else not at all', () => {
  const rig = { strokeMm: 30, mmPerSecond: null }
  expect(strokeUse({ travelMm: 6, turns: 4 }, rig, 9)).toEqual({
    usedMm: 6,
    ofMm: 30,
    share: 0.2,
    from: 'turns',
  })
  expect(strokeUse({ travelMm: -28, turns: null }, rig, 9)).toMatchObject({ from: 'travel' })
  expect(strokeAlarm(strokeUse({ travelMm: -28, turns: null }, rig, 9))).toBe('near-end')
  expect(strokeUse({ travelMm: null, turns: null }, { strokeMm: 30, mmPerSecond: 2 }, 15)).toMatchObject({
    usedMm: 30,
    share: 1,
    from: 'time',
  })
  expect(strokeUse({ travelMm: null, turns: null }, rig, 15)).toBeNull()
  expect(strokeAlarm(strokeUse({ travelMm: 6, turns: null }, null, 0))).toBeNull()
})

test('a live force has the digits that the reading itself lets stand', () => {
  expect(liveForce(41.789, 0.01, 'N')).toBe('41.79 N')
  expect(liveForce(41.789, 0.5, 'N')).toBe('42 N')
  expect(liveForce(-0.001, 0.01, 'N')).toBe('0.00 N')
  expect(liveDecimals(null, 'N')).toBe(2)
  expect(liveDecimals(5, 'kN')).toBe(2)
})

test('the pitch rises by two octaves to the planned peak, and no farther than one more', () => {
  expect(pitchHz(1) / pitchHz(0)).toBeCloseTo(4)
  expect(pitchHz(9)).toBe(pitchHz(1.5))
  expect(pitchHz(-1)).toBe(pitchHz(0))
})

test('a finished recording is asked about until it was answered, also by a page that came late', () => {
  const live = {
    capture: { phase: 'finished', sinceS: 12.5 },
    plan: { specimenId: 's1' },
    line: 'pretend rig',
    ended: null,
    reading: null,
  } as unknown as Parameters<typeof unanswered>[0]
  const asked = unanswered(live, null)
  expect(asked).toMatchObject({ specimenId: 's1', recordingId: null })
  expect(unanswered(live, asked?.key ?? '')).toBeNull()
  const running = { ...live, capture: { phase: 'recording' } } as unknown as typeof live
  expect(unanswered(running, null)).toBeNull()
})
