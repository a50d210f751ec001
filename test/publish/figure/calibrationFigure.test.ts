import { describe, expect, test } from 'vitest'
import { calibrate } from '../../../src/core/calibration/calibrate.ts'
import { checkChart } from '../../../src/core/calibration/checkChart.ts'
import type { Check } from '../../../src/core/calibration/checkDocument.ts'
import { UNKNOWN_GRAVITY } from '../../../src/core/units/gravity.ts'
import { calibrationFigure } from '../../../src/publish/figure/calibrationFigure.ts'
import { checkFigure } from '../../../src/publish/figure/checkFigure.ts'

const outcome = calibrate({
  name: 'points <1>.csv',
  points: [1, 2, 3].flatMap(cycle =>
    [0, 20, 40, 60, 80, 100].map((appliedN, k) => ({
      line: 6 * cycle + k,
      appliedN,
      reading: 1000 + 2000 * appliedN + ((cycle * 7 + k * 3) % 5) * 20 + (cycle === 2 && k === 3 ? 4000 : 0),
      direction: 'up' as const,
      cycle,
    })),
  ),
  doubts: [],
  gravity: UNKNOWN_GRAVITY,
  readingUnit: 'counts',
})
if (!outcome.ok) throw new Error('no calibration')
const svg = calibrationFigure(outcome.value)

describe('the residuals', () => {
  test('a dot for each loaded point, and the class limits by their names', () => {
    expect(svg.match(/<circle/g)).toHaveLength(15)
    expect(svg).toContain('class 3')
    expect(svg).toContain('check the standard')
  })
  test('the point far off is named', () => expect(svg).toContain('line 15, far off'))
  test('a name from outside is escaped; nothing is not a number', () => {
    expect(svg).not.toContain('<1>')
    expect(svg).not.toMatch(/NaN|Infinity|undefined/)
  })
  test('title and description for those who do not see it', () => {
    expect(svg).toMatch(/<title>[^<]+<\/title><desc>[^<]+<\/desc>/)
  })
})

describe('the checks', () => {
  const checks = [0.1, -0.1, 0.2, 0, 0.1, -0.2, 2].map(
    (pct, i): Check => ({
      document: 'tenterhook.check',
      version: 1,
      at: `2026-06-0${i + 1}T08:00:00Z`,
      appliedN: 10,
      appliedStandardN: 0.01,
      indicatedN: 10 * (1 + pct / 100),
      indicatedStandardN: 0.01,
      zeroN: 0,
      calibration: '2026-05-01',
      verdict: pct > 1 ? 'out' : 'within',
      findings: [],
    }),
  )
  const chart = checkChart(
    checks.slice(0, 6).map(c => ({ value: 10 * (c.indicatedN - 10), sound: true })),
    2,
    0.01,
  )
  test('one dot a check, with limits', () => {
    const drawn = checkFigure('bench', checks, chart)
    expect(drawn.match(/<circle/g)).toHaveLength(7)
    expect(drawn).toContain('lower limit')
    expect(drawn).toContain('The rig is off')
    expect(drawn).not.toMatch(/NaN|Infinity|undefined/)
  })
  test('one check alone, without limits', () => {
    const drawn = checkFigure('bench', checks.slice(0, 1), null)
    expect(drawn).toContain('limits after 6 checks')
    expect(drawn).not.toMatch(/NaN|Infinity|undefined/)
  })
})
