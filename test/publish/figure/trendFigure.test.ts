import { expect, test } from 'vitest'
import { compareGroups } from '../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../../src/core/statistics/compare/specimen.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { trendFigure } from '../../../src/publish/figure/trendFigure.ts'

/** Strips of several widths, 30 N and 1.5 N for each mm more than ten. */
function compared(widths: readonly string[]) {
  const r = seededRandom(2)
  return compareGroups(
    widths.flatMap((name, g) =>
      [1, 2, 3, 4].map(i => plainSpecimen(`${name} ${i}`, name, 30 + 15 * g + 2 * r.normal())),
    ),
    { quantity: 'peakForce', unit: 'N' },
  )
}

test('the answer above, the whole verdict small beneath it, every specimen, the curve and its band', () => {
  const comparison = compared(['10 mm', '20 mm', '30 mm'])
  const svg = trendFigure(comparison)!
  expect(svg).toContain(comparison.answer!.headline)
  expect(svg.match(/<circle/g)).toHaveLength(12)
  expect(svg).toContain('<polygon')
  expect(svg).toContain('number in the name, mm')
  expect(svg).not.toMatch(/NaN|undefined|Infinity/)
  // The curve runs through about 60 N at 30 mm; the description says it with its band.
  const last = comparison.factor!.curve!.points.at(-1)!
  expect(last.low).toBeLessThan(last.value)
  expect(Math.abs(last.value - 60)).toBeLessThan(4)
})

test('variants that differ by no number have none', () => {
  expect(trendFigure(compared(['paste', 'glue', 'stitch']))).toBeNull()
})
