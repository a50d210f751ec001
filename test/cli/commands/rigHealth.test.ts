import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { makeRigCheck } from '../../../src/capture/pretend/index.ts'
import { healthSchema } from '../../../src/core/health/document.ts'
import { writeCsv } from '../../../src/logs/index.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-health-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const { spec, logs } = makeRigCheck(4, chosen => ({ ...chosen, troubles: { glitches: { doubled: 0.01 } } }))
const files = Object.fromEntries(
  logs.map(({ step, recording: { timeS, forceN } }) => {
    const path = join(folder, `${step}.csv`)
    const rows = Array.from(timeS, (t, i) => `${t.toFixed(4)},${forceN[i]!.toFixed(4)}`)
    writeFileSync(path, `time_s,force_N\n${rows.join('\n')}\n`)
    return [step, path]
  }),
) as Record<(typeof logs)[number]['step'], string>

test('a check from its four logs, in words and as the document', async () => {
  const words = [
    'rig',
    'health',
    '--free',
    files.free,
    '--hung',
    files.mass,
    '--mass',
    `${spec.massN.toFixed(3)}N`,
    '--taps',
    files.taps,
    '--by-hand',
    files.pull,
    '--asked-rate',
    '80',
  ]
  const told = await ran(words)
  expect(told.code).toBe(0)
  expect(told.out).toContain('of the readings are doubled')
  const { out } = await ran([...words, '--json'])
  const health = healthSchema.parse(JSON.parse(out))
  expect(health.findings.map(f => f.code)).toEqual(['glitch-doubled'])
  expect(health.records.map(r => r.step)).toEqual(['free', 'mass', 'taps', 'pull'])
  expect(health.records[0]!.sha256).toMatch(/^[0-9a-f]{64}$/)
})

test('what the four logs of a check do is taken as it came: a turned sign and another channel far below are found', async () => {
  const turned = makeRigCheck(11, chosen => ({
    ...chosen,
    troubles: { isTurned: true, glitches: { channel: 0.01 } },
  }))
  const flags = { free: '--free', mass: '--hung', taps: '--taps', pull: '--by-hand' }
  const words = turned.logs.flatMap(({ step, recording }) => {
    const path = join(folder, `turned-${step}.csv`)
    writeFileSync(path, [...writeCsv(recording)].join(''))
    return [flags[step], path]
  })
  const { out, err } = await ran(['rig', 'health', ...words, '--json'])
  expect(err).toBe('')
  const { findings } = healthSchema.parse(JSON.parse(out))
  expect(findings.map(f => f.code)).toEqual(['sign', 'glitch-channel'])
  expect(findings[0]!.size).toBeCloseTo(-turned.spec.massN, 1)
  // Who knows that tension is counted negative is believed.
  const told = await ran(['rig', 'health', ...words, '--tension', 'negative'])
  expect(told.out).not.toContain('counted negative')
})

test('a check of all steps says in one line that the rig is well; of some, that nothing is wrong in these', async () => {
  const well = makeRigCheck(8)
  const flags = { free: '--free', mass: '--hung', taps: '--taps', pull: '--by-hand' }
  const words = well.logs.flatMap(({ step, recording }) => {
    const path = join(folder, `well-${step}.csv`)
    writeFileSync(path, [...writeCsv(recording)].join(''))
    return [flags[step], path]
  })
  const all = await ran(['rig', 'health', ...words, '--asked-rate', '80'])
  expect(all.out).toMatch(/^The rig is well: nothing was found that costs a peak anything\.\n\nSeen: /)
  const some = await ran(['rig', 'health', ...words.slice(0, 2), '--asked-rate', '80'])
  expect(some.out).toMatch(/^In what was looked at nothing is wrong\./)
})

test('to keep a check asks for the rig that it is of', async () => {
  const { code, err } = await ran(['rig', 'health', '--free', files.free, '--keep'])
  expect(code).toBe(2)
  expect(err).toContain('a rig of the store with --of')
})

test('an ordinary log alone says what it cannot tell, in the unit asked for', async () => {
  const { code, out } = await ran(['rig', 'health', files.mass, '--show', 'gf'])
  expect(code).toBe(0)
  expect(out).toContain('Without a minute hanging free'.slice(0, 7))
  expect(out).toContain('Without a mass left hanging')
})

test('no log, a log that is not there, and logs of two scales are told with their cure', async () => {
  expect(await ran(['rig', 'health'])).toMatchObject({ code: 2 })
  expect((await ran(['rig', 'health', join(folder, 'none.csv')])).code).toBe(3)
  const raw = join(folder, 'raw.csv')
  writeFileSync(
    raw,
    `time_s,counts\n${Array.from({ length: 60 }, (_, i) => `${i / 10},${84_000 + (i % 7)}`).join('\n')}\n`,
  )
  const { code, err } = await ran(['rig', 'health', raw, files.free])
  expect(code).toBe(3)
  expect(err).toContain('in one scale')
})
