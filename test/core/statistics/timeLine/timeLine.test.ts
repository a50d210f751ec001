import { describe, expect, test } from 'vitest'
import { parseChecks } from '../../../../src/core/calibration/checkDocument.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { timeLineSchema } from '../../../../src/core/statistics/timeLine/document.ts'
import { timeLine } from '../../../../src/core/statistics/timeLine/timeLine.ts'
import { timeLineFigure } from '../../../../src/publish/figure/timeLineFigure.ts'
import { lineGiven } from './lines.ts'

const codes = (given: Parameters<typeof timeLine>[0]) => timeLine(given).findings.map(({ code }) => code)

describe('what changed', () => {
  test('nothing: nothing is told, and it says how little that is', () => {
    const line = timeLine(lineGiven(1, {}))
    expect(line.findings).toEqual([])
    expect(line.verdict).toMatch(/^No change is told over 20 days of paste and 20 days of checks\./)
    expect(line.verdict).toMatch(/can be there all the same/)
  })
  test('the glue: the control falls, the checks stay', () => {
    const line = timeLine(lineGiven(2, { specimensPct: -8 }))
    expect(line.findings.map(({ code }) => code)).toEqual(['specimens-changed'])
    expect(line.findings[0]!.from).toBe('2026-03-11')
    expect(line.findings[0]!.text).toMatch(
      /^From 2026-03-11 on paste lies [\d.]+ % lower \(95 % interval .* moved by no more than scatter .*: the specimens changed \(the glue/,
    )
    expect(line.control.changes[0]!.byPct).toBeLessThan(-5)
  })
  test('the rig: both fall alike', () => {
    const line = timeLine(lineGiven(3, { rigPct: -8 }))
    expect(line.findings.map(({ code }) => code)).toEqual(['rig-changed'])
    expect(line.findings[0]!.text).toMatch(
      /: the rig changed, and no change of the specimens is seen beside it\. .*calibrate anew/,
    )
  })
  test('both, by different amounts', () =>
    expect(codes(lineGiven(4, { rigPct: -6, specimensPct: -12 }))).toEqual(['both-changed']))
  test('the rig by less than the control can show: told by the checks', () => {
    const line = timeLine(lineGiven(5, { rigPct: 1.5 }))
    expect(line.findings.map(({ code }) => code)).toEqual(['rig-changed'])
    expect(line.findings[0]!.text).toMatch(/while paste moved by no more than scatter/)
  })
  test('the rig by less than the control scatters: no change of the specimens is told some days off', () => {
    // Lines whose control, taken by itself, changes eight and six days before the rig does.
    for (const seed of [2, 116]) {
      const { findings } = timeLine(lineGiven(seed, { rigPct: -2, days: 30 }))
      expect(findings.map(({ code, from }) => [code, from])).toEqual([['rig-changed', '2026-03-16']])
    }
    const codes = Array.from({ length: 200 }, (_, seed) =>
      timeLine(lineGiven(seed, { rigPct: -2, days: 30 })).findings.map(({ code }) => code),
    )
    expect(codes.filter(own => own.includes('specimens-changed')).length).toBeLessThanOrEqual(8)
    expect(codes.filter(own => own.includes('rig-changed')).length).toBeGreaterThanOrEqual(175)
  })
  test('the rig, with no control pulled since: of the specimens nothing is said', () => {
    const given = lineGiven(3, { rigPct: -8 })
    const line = timeLine({ ...given, pulls: given.pulls.filter(({ day }) => day! < '2026-03-11') })
    expect(line.findings[0]!.text).toMatch(
      /paste was not pulled on both sides of it: the rig changed, and whether the specimens did cannot be told\./,
    )
  })
  test('the reading: a newer engine reads the same recordings so much lower', () => {
    const given = lineGiven(6, { readingPct: -8 })
    const line = timeLine(given)
    expect(line.findings.map(({ code }) => code)).toEqual(['reading-changed'])
    expect(line.findings[0]!.text).toMatch(
      /5 recordings read again came out .* lower .*: the reading changed/,
    )
    expect(line.readAgain).toMatchObject([{ from: '0.1.0', to: '0.2.0', n: 5, moved: 5 }])
  })
  test('without checks it cannot be told what', () => {
    const line = timeLine({ ...lineGiven(2, { specimensPct: -8 }), checks: [] })
    expect(line.findings.map(({ code }) => code)).toEqual(['not-told'])
    expect(line.verdict).toMatch(/fewer than two daily checks on one side/)
  })
  test('checks that scatter as widely as the control moved leave it open', () =>
    expect(codes(lineGiven(7, { specimensPct: -8, checkScatterPct: 20 }))).toEqual(['not-told']))
})

test('the glue and, a week later, the rig: each is told at its own time', () => {
  const glue = lineGiven(12, { specimensPct: -8, days: 24 })
  const fromDay = '2026-03-19'
  const line = timeLine({
    ...glue,
    pulls: glue.pulls.map(p => (p.day! >= fromDay ? { ...p, value: p.value * 0.96 } : p)),
    checks: glue.checks.map(c => (c.at >= fromDay ? { ...c, indicatedN: c.indicatedN * 0.96 } : c)),
  })
  expect(line.findings.map(({ code, from }) => [code, from])).toEqual([
    ['specimens-changed', '2026-03-13'],
    ['rig-changed', fromDay],
  ])
  expect(line.findings[1]!.control!.byPct).toBeLessThan(-1)
})

test('too few days say that they are', () => {
  const given = lineGiven(1, {})
  const few = timeLine({ ...given, pulls: given.pulls.slice(0, 4), checks: given.checks.slice(0, 1) })
  expect(few.verdict).toMatch(/^2 days of paste and 1 day of checks tell nothing yet: it takes 5 days/)
  expect(timeLine({ ...given, pulls: [], checks: [] }).verdict).toMatch(/^Nothing is on the line yet/)
})

test('what an engine changed is said though the control did not move', () => {
  const given = lineGiven(1, {})
  const line = timeLine({
    ...given,
    readTwice: [{ from: '0.1.0', to: '0.2.0', at: '2026-03-12T08:00:00Z', pct: 2 }],
  })
  expect(line.findings).toEqual([])
  expect(line.verdict).toMatch(
    /^Read again by 0\.2\.0 instead of 0\.1\.0, 1 of 1 recording came out another, by up to 2\.0 %/,
  )
})

test('a check with another mass is left out and said', () => {
  const given = lineGiven(1, {})
  const other = { ...given.checks[0]!, appliedN: 20, indicatedN: 22 }
  const line = timeLine({ ...given, checks: [...given.checks, other] })
  expect(line.checks.leftOut).toBe(1)
  expect(line.warnings.map(({ code }) => code)).toEqual(['other-mass'])
})

test('the document keeps to its schema, for all that can happen', () => {
  const r = seededRandom(9)
  for (let run = 0; run < 40; run++) {
    const given = lineGiven(100 + run, {
      rigPct: run % 3 === 0 ? 6 * r.normal() : 0,
      specimensPct: run % 4 === 0 ? 8 * r.normal() : 0,
      readingPct: run % 5 === 0 ? 5 : 0,
      days: 1 + (run % 25),
    })
    const line = timeLine(given)
    expect(timeLineSchema.safeParse(line).error).toBeUndefined()
    const svg = timeLineFigure(line)
    expect(svg).not.toMatch(/NaN|undefined|Infinity/)
    expect(line.verdict).not.toMatch(/NaN|undefined|null|Infinity|no difference/)
  }
})

test('the figure names the tracks and marks each change', () => {
  const svg = timeLineFigure(timeLine(lineGiven(2, { specimensPct: -8 })))
  expect(svg).toContain('2026-03-11: the specimens changed')
  expect(svg).toContain('check error, %')
  expect(svg).toContain('control, %')
})

test('the checks of the tests are checks', () => {
  const { checks } = lineGiven(1, {})
  const text = checks.map(check => `${JSON.stringify(check)}\n`).join('')
  expect(parseChecks(text, 'checks').ok).toBe(true)
})

test('of two masses that hung as often, the one that hung first counts, and the other is said to be left out', () => {
  const given = lineGiven(7, {})
  const [first, second] = [given.checks.slice(0, 6), given.checks.slice(6, 12)]
  const checks = [...first, ...second.map(check => ({ ...check, appliedN: 2 * check.appliedN }))]
  const line = timeLine({ ...given, checks })
  expect(line.checks).toMatchObject({ appliedN: first[0]!.appliedN, leftOut: 6 })
})
