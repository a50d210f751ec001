import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { heldLoad, heldText } from '../../../../src/core/statistics/compare/heldLoad.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'

const one = (value: number | null, more: Partial<Specimen> = {}): Specimen => ({
  ...plainSpecimen('s', 'paste', value ?? 0),
  value,
  ...more,
})

test('what let go at the load or above held it, what was only pulled so far too; what is not known is left out', () => {
  const [paste] = heldLoad(
    [
      one(50),
      one(61),
      one(49.9),
      one(50, { status: 'at-least' }),
      one(40, { status: 'at-least' }),
      one(40, { status: 'at-least', failedOtherwise: true }),
      one(null, { status: 'not-recorded' }),
      one(70, { dropped: 'slipped' }),
    ],
    50,
  )
  expect(paste).toMatchObject({ held: 3, of: 5, notTold: 2 })
  // Clopper and Pearson for 3 of 5: 14.663 to 94.726 % (SciPy 1.17.1, stats.beta.ppf).
  expect(paste!.record!.ci95[0]).toBeCloseTo(0.14663, 4)
  expect(paste!.record!.ci95[1]).toBeCloseTo(0.94726, 4)
})

test('a value whose own doubt reaches over the load is told', () =>
  expect(heldLoad([one(50.2, { low: 49.7, high: 50.7 })], 50)[0]!.close).toBe(1))

describe('sentences', () => {
  const all = (held: number, of: number): string =>
    heldText(
      heldLoad(
        Array.from({ length: of }, (_, i) => one(i < held ? 60 : 40)),
        50,
      )[0]!,
      '50 N',
    )
  test.each([
    [
      1,
      1,
      'paste held 50 N: with 95 % confidence at least 5.0 in 100 do (95 % interval of the share 2.5 to 100 %)',
    ],
    [0, 3, 'that shows nothing of how many do (95 % interval of the share 0.0 to 71 %)'],
    [29, 29, 'at least 90 in 100 do'],
    [30, 30, 'at least 90 in 100 do'],
  ])('%i of %i', (held, of, text) => expect(all(held, of)).toContain(text))
  test('none known', () =>
    expect(heldText(heldLoad([one(null)], 50)[0]!, '50 N')).toBe(
      'Of paste none is known to have held 50 N or not',
    ))
})

test('in the document, where it was asked for', () => {
  const specimens = [48, 55, 60].map((v, i) => ({ ...one(v), name: `s${i}` }))
  const found = compareGroups(specimens, { quantity: 'peakForce', unit: 'N', proofLoad: 50 })
  expect(found.proof!.groups[0]).toMatchObject({
    held: 2,
    of: 3,
    text: expect.stringMatching(/^2 of 3 paste held 50\.0 N: /),
  })
  expect(comparisonSchema.safeParse(found).error).toBeUndefined()
  expect(compareGroups(specimens, { quantity: 'peakForce', unit: 'N' }).proof).toBeNull()
})
