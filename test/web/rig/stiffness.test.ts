import { writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { readLog } from '../../../src/logs/index.ts'
import { stiffnessOfLog } from '../../../src/web/rig/stiffness/stiffnessOfLog.ts'
import { ran } from '../../cli/fakeIo.ts'
import { good } from '../../store/stores.ts'

/** A bar pulled at 0.5 mm/s on a rig of 150 N/mm; 0.2 mm of slack first. */
const log = [
  'time (s),force (N)',
  ...Array.from({ length: 60 }, (_, i) => {
    const s = i / 20
    return `${s.toFixed(2)},${(150 * Math.max(0, 0.5 * s - 0.2)).toFixed(2)}`
  }),
].join('\n')

test('is the stiffness that the command line finds', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-bar-'))
  writeFileSync(join(folder, 'bar.csv'), log)
  const told = await ran(['rig', 'stiffness', join(folder, 'bar.csv'), '--mm-per-second', '0.5', '--json'])
  await rm(folder, { recursive: true })
  const rig = good(parseRig(JSON.stringify({ drive: { mmPerSecond: 0.5 } }), 'rig'))
  const found = good(stiffnessOfLog(good(readLog(new TextEncoder().encode(log), 'bar.csv')), rig))
  expect(told.code, told.err).toBe(0)
  expect(found).toEqual(JSON.parse(told.out))
  expect(found.nPerMm).toBeCloseTo(150, 1)
})

test('a log without travel, of a drive whose speed is not known, says what to give', () => {
  const rig = good(parseRig('{}', 'rig'))
  const outcome = stiffnessOfLog(good(readLog(new TextEncoder().encode(log), 'bar.csv')), rig)
  expect(outcome.ok).toBe(false)
})
