import { expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import type { Looks } from '../../../../src/core/statistics/compare/looks.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'

const groups = { paste: [46, 49, 44, 50, 43], glue: [68, 80, 61, 74, 60], stitch: [95, 112, 88, 101, 84] }
const specimens = Object.entries(groups).flatMap(([name, values]) =>
  values.map((value, i) => plainSpecimen(`${name}-${i + 1}`, name, value)),
)
const compared = (looks: Looks | null) =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', looks })

test('the same specimens seen again are no look more: what they say stays to the last digit', () => {
  expect(compared({ earlier: [5], planned: null, stages: 1 })).toEqual(compared(null))
})

test('a look after more were pulled is one more', () => {
  const again = compared({ earlier: [3], planned: null, stages: 1 })
  expect(again.family.look).toBe(2)
  expect(again.warnings.map(({ code }) => code)).toContain('looks-unplanned')
})
