import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { typedReading } from '../../../src/core/reading/typedReading.ts'
import type { TimeLine } from '../../../src/core/statistics/timeLine/document.ts'
import { lineGiven } from '../../core/statistics/timeLine/lines.ts'
import { pretendRecording } from '../../store/pretendRecording.ts'
import { good, openAt } from '../../store/stores.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-timeline-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function written(name: string, seed: number, happens: Parameters<typeof lineGiven>[1]) {
  const { pulls, checks } = lineGiven(seed, happens)
  const [table, kept] = [join(folder, `${name}.csv`), join(folder, `${name}.checks.jsonl`)]
  writeFileSync(
    table,
    `specimen,variant,peak N,day\n${pulls.map(p => `${p.name},paste,${p.value},${p.day}\n`).join('')}`,
  )
  writeFileSync(kept, checks.map(check => `${JSON.stringify(check)}\n`).join(''))
  return ['timeline', '--table', table, '--control', 'paste', '--checks', kept]
}

test('a table and the checks: what changed, a line for each day, and a figure', async () => {
  const figure = join(folder, 'weeks.svg')
  const { code, out } = await ran([...written('glue', 2, { specimensPct: -8 }), '--figure', figure])
  expect(code).toBe(1)
  expect(out.replaceAll(/\s+/g, ' ')).toMatch(/the specimens changed \(the glue, the material/)
  expect(out).toMatch(/2026-03-11 .*specimens changed/)
  expect(readFileSync(figure, 'utf8')).toContain('the specimens changed')
})

test('the document, and the exit code where nothing is told', async () => {
  const { code, out } = await ran([...written('none', 1, {}), '--json'])
  const line = JSON.parse(out) as TimeLine
  expect(code).toBe(0)
  expect(line).toMatchObject({ document: 'tenterhook.time-line', version: 1, findings: [] })
  expect(line.control.days).toHaveLength(20)
})

test.each([
  [['timeline'], 'give either --study or --table'],
  [['timeline', '--table', 'x.csv'], '--control says which group'],
])('%j', async (words, told) => {
  const { code, err } = await ran(words)
  expect(code).toBe(2)
  expect(err).toContain(told)
})

test('a group that is not there is told with those that are', async () => {
  const words = written('named', 1, {}).map(word => (word === 'paste' ? 'glue' : word))
  const { code, err } = await ran(words)
  expect(code).toBe(3)
  expect(err).toContain('The groups are paste')
})

test('a study of the store: its control, the checks of its rig, and what a newer engine read of the same recordings', async () => {
  const place = join(folder, 'store')
  const { pulls, checks } = lineGiven(6, { readingPct: -8 })
  const store = await openAt(place)
  const study = good(await store.studies.create({ name: 'Handles' }))
  const rig = good(await store.rigs.create({ name: 'bench', document: {} }))
  const control = good(await store.variants.create(study.id, { name: 'paste', control: true }))
  for (const [i, { name, day, value, engine }] of pulls.entries()) {
    const specimen = good(
      await store.specimens.create(study.id, {
        name,
        variantId: control.id,
        status: 'pulled',
        pulledOn: day,
      }),
    )
    const { recording, log } = pretendRecording(name, [0, i, 2])
    const { entry } = good(
      await store.recordings.save({ recording, log, source: 'log', specimenId: specimen.id, rigId: rig.id }),
    )
    const keep = async (peakN: number, by: string | null) => {
      const facts = { variant: 'paste' } as unknown as Parameters<typeof typedReading>[0]
      const reading = typedReading(facts, {
        value: peakN,
        unit: 'N',
        isAtLeast: false,
        step: null,
        doubt: null,
        who: '',
      })
      const kept = { ...reading, warnings: [], engine: by ?? reading.engine }
      good(
        await store.readings.save({
          specimenId: specimen.id,
          recordingIds: [entry.id],
          engine: kept.engine,
          adjustments: [],
          options: {},
          reading: kept,
        }),
      )
    }
    // The last five of the new level had been read by the older engine before.
    if (i >= pulls.length - 5) await keep(value / 0.92, '0.1.0')
    await keep(value, engine)
  }
  for (const document of checks)
    good(await store.checks.save({ rigId: rig.id, calibrationId: null, madeAt: document.at, document }))
  await store.close()
  const { code, out } = await ran(['timeline', '--study', 'Handles', '--store', place, '--json'])
  const line = JSON.parse(out) as TimeLine
  expect(code).toBe(1)
  expect(line.checks.days).toHaveLength(20)
  expect(line.readAgain).toMatchObject([{ from: '0.1.0', to: '0.2.0', n: 5, moved: 5 }])
  expect(line.findings.map(f => f.code)).toEqual(['reading-changed'])
  const other = await ran(['timeline', '--study', 'Handles', '--store', place, '--control', 'glue'])
  expect(other.code).toBe(3)
  expect(other.err).toContain('no variant of that name')
})
