import { expect, test } from 'vitest'
import { makeRigCheck } from '../../../src/capture/pretend/index.ts'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { entryOf, withEntry } from '../../../src/core/health/entry.ts'
import { judgeSteps, liveRecording } from '../../../src/web/rig/health/stepRecords.ts'
import { good } from '../../store/stores.ts'

const rig = good(parseRig(JSON.stringify({ converter: { rateHz: 80 } }), 'rig'))
const { spec, logs } = makeRigCheck(5, chosen => ({ ...chosen, troubles: { driftNPerMin: 0.3 } }))
const fromLine = logs.map(({ step, recording: { timeS, forceN } }) => ({
  step,
  recording: liveRecording(step, [...timeS], [...forceN], 'N'),
}))

test('steps from the line are judged as their logs are, in the unit that is shown', async () => {
  const health = good(await judgeSteps(fromLine, rig, spec.massN, 'gf'))
  expect(health.findings.map(f => f.code)).toEqual(['drift'])
  expect(health.findings[0]!.unit).toBe('gf/min')
  expect(health.findings[0]!.text).toContain('gf a minute')
  expect(health.findings[0]!.size).toBeCloseTo(0.3 / 0.00980665, 0)
})

test('steps of two scales are told', async () => {
  const raw = {
    step: 'ordinary' as const,
    recording: { ...fromLine[0]!.recording, forceUnit: 'counts' as const },
  }
  const outcome = await judgeSteps([...fromLine, raw], rig, null, 'N')
  expect(outcome.ok).toBe(false)
})

test('a rig keeps what was found, the latest 180 times', async () => {
  const health = good(await judgeSteps(fromLine, rig, spec.massN, 'N'))
  const entry = entryOf(health, '2031-05-04T10:00:00.000Z')
  const kept = withEntry(
    Array.from({ length: 180 }, () => ({ ...entry, healthy: true })),
    entry,
  )
  expect(kept).toHaveLength(180)
  expect(kept.at(-1)).toEqual(entry)
  const parsed = good(parseRig(JSON.stringify({ health: kept.slice(-2) }), 'rig'))
  expect(parsed.health?.at(-1)?.findings[0]?.code).toBe('drift')
})
