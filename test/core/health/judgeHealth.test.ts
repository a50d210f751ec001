import { describe, expect, test } from 'vitest'
import { healthSchema } from '../../../src/core/health/document.ts'
import { type Ailment, ailments, checkRig, scoreOf } from './ailments.ts'

describe('each trouble alone is named with its size, and nothing else is', () => {
  test.each(Object.entries(ailments))('%s', (_, ailment: Ailment) => {
    const checked = checkRig(7, [ailment])
    expect(scoreOf(checked, [ailment])).toEqual({ named: [true], sized: [true], invented: [] })
    expect(healthSchema.safeParse(checked.health).success).toBe(true)
    expect(checked.health.healthy).toBe(false)
  })
})

test('a healthy rig is told so', () => {
  const { health } = checkRig(8, [])
  expect(health).toMatchObject({ healthy: true, findings: [], waitMin: null })
  expect(health.stepN).toBe(0.001)
  expect(health.notKnown).toEqual([])
})

test('several at once come gravest first', () => {
  const given = [ailments.doubled!, ailments.sign!, ailments.drift!, ailments.hum50!]
  const { health } = checkRig(9, given)
  expect(health.findings.map(f => f.code)).toEqual(['sign', 'drift', 'hum', 'glitch-doubled'])
  expect(health.findings.at(-1)!.text).toContain('your peaks lose nothing')
})

test('which mains hums is told by where it folds to', () => {
  const mains = (name: string) => checkRig(3, [ailments[name]!]).health.findings[0]!.text
  expect(mains('hum50')).toContain('50 Hz')
  expect(mains('hum60')).toContain('60 Hz')
})
