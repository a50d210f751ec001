import { expect, test } from 'vitest'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'
import type { HealthRecord } from '../../../src/core/health/types.ts'
import { checkRig, optionsFor } from './ailments.ts'

const { spec, logs } = checkRig(8, [])
const recordOf = (step: string) => logs.find(l => l.step === step)!.recording
const judged = (...records: HealthRecord[]) => {
  const health = judgeHealth(records, optionsFor(spec.massN))
  if (!health.ok) throw new Error(health.problems[0]?.what)
  return health.value
}
const constant = (value: number, forceUnit: 'N' | 'counts'): HealthRecord['recording'] => ({
  ...recordOf('free'),
  forceN: recordOf('free').forceN.map(() => value),
  forceUnit,
})

test('a step in which its own thing was not done is told, by its log', () => {
  const free = recordOf('free')
  expect(judged({ step: 'mass', recording: { ...free, name: 'hung.csv' } }).notKnown.join(' ')).toContain(
    'hung.csv does not show a mass being hung on the empty rig: sign, creep',
  )
  expect(judged({ step: 'taps', recording: free }).notKnown.join(' ')).toContain('does not show two taps')
  expect(judged({ step: 'pull', recording: free }).notKnown.join(' ')).toContain('does not show a pull')
})

test('a mass in the minute of hanging free is no untared cell and no drift', () => {
  const health = judged({ step: 'free', recording: recordOf('mass') })
  expect(health.findings).toEqual([])
  expect(health.notKnown[0]).toContain('shows a load put on or taken off')
})

test('a record of too few readings is not dropped in silence', () => {
  const short = { ...recordOf('taps'), name: 'short.csv' }
  const n = 12
  const cut = {
    ...short,
    timeS: short.timeS.slice(0, n),
    forceN: short.forceN.slice(0, n),
    channels: [],
    segments: [{ ...short.segments[0]!, to: n }],
  }
  const { notKnown } = judged({ step: 'free', recording: recordOf('free') }, { step: 'taps', recording: cut })
  expect(notKnown[0]).toBe('short.csv has too few readings (12): left out.')
})

test('one and the same reading throughout: raw counts are stuck, a coarse display may be well', () => {
  const display = judged({ step: 'free', recording: constant(0, 'N') })
  expect(display).toMatchObject({ findings: [], leastDropN: null })
  expect(display.notKnown.join(' ')).toContain('one and the same reading throughout')
  const raw = judged({ step: 'free', recording: constant(84_012, 'counts') })
  expect(raw.findings.map(f => f.code)).toEqual(['stuck'])
  expect(raw.findings[0]!.size).toBeCloseTo(60, 0)
})
