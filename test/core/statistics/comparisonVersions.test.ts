import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { anyComparisonSchema } from '../../../src/core/statistics/comparisonVersions.ts'

/** As the first version of the document was written: three groups, a scale shared by all. */
const first = JSON.parse(readFileSync(new URL('comparison-version-1.json', import.meta.url), 'utf8'))

test('a comparison of version 1 is still read, its figures where they now stand', () => {
  const read = anyComparisonSchema.parse(first)
  expect(read.version).toBe(2)
  read.groups.forEach((group, i) => {
    expect(group.ci95).toEqual(first.groups[i].ci95WithDoubt)
    expect(group.ci95OfScatter).toEqual(first.groups[i].ci95)
  })
  expect(read.family).toEqual({ count: 3, level: 0.05 })
  expect(read.verdict).toBe(first.verdict)
})

test('its intervals stand only where they agree with what was said of the pair', () => {
  const read = anyComparisonSchema.parse(first)
  for (const [i, pair] of read.pairs.entries()) {
    const told = first.pairs[i].withDoubt.ci95
    expect(pair.ci95).toEqual((told[0] > 0 || told[1] < 0) === pair.seen ? told : null)
    expect(pair.verdict).toBe(pair.seen ? 'different' : 'undecided')
    expect(pair.welch!.ci95).toEqual(first.pairs[i].ci95)
  }
})

test('what is no comparison is refused', () => {
  expect(anyComparisonSchema.safeParse({ version: 1, groups: [], pairs: [] }).success).toBe(false)
  expect(anyComparisonSchema.safeParse({ ...first, version: 3 }).success).toBe(false)
})
