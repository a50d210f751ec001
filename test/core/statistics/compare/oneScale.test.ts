import { expect, test } from 'vitest'
import { answerIn } from '../../../../src/core/answer/answerOf.ts'
import { valueWords } from '../../../../src/core/answer/words.ts'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { onOneScale } from '../../../../src/core/statistics/compare/oneScale.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'

const inUnit = (unit: string, group: string, ...values: number[]) =>
  values.map((value, i) => ({ specimen: plainSpecimen(`${group} ${i + 1}`, group, value), unit }))
const comparisonOf = (given: Parameters<typeof onOneScale>[0]) => {
  const { specimens, unit, warnings } = onOneScale(given)
  return compareGroups([...specimens], { quantity: 'peakForce', unit, warnings: [...warnings] })
}
const NEWTON = [...inUnit('N', 'a', 60, 61, 62, 63), ...inUnit('N', 'b', 20, 21, 22, 23)]

test('a variant in counts beside variants in newton: its rig is what is missing, not a pull', () => {
  const comparison = comparisonOf([...NEWTON, ...inUnit('counts', 'c', 91_000, 92_000)])
  const { headline, ranking, doubts, next } = answerIn(comparison)
  expect(headline).toBe('A holds most.')
  expect(next).toMatchObject({
    kind: 'name-rig',
    text: 'Name the rig of c 1 and c 2: they count in no figure yet.',
  })
  const last = ranking.at(-1)!
  expect(last).toMatchObject({ name: 'c', n: 0, place: null, value: null })
  expect(valueWords(last, { unit: 'N', per: 1 }, true)).toBe('no force yet: its rig is not named')
  expect(doubts.map(({ text }) => text)).toContain('2 of 2 c have no force yet and do not count.')
  expect(comparison.warnings.find(({ code }) => code === 'other-scale')?.text).toContain('c 1, c 2')
  // Not twice, and nothing of what else there is to pull.
  expect(comparison.warnings.map(({ code }) => code)).not.toContain('dropped')
  expect(comparison.verdict).toContain('of c no force is known yet, as its rig is not named')
  expect(comparison.needMore).toBeNull()
})

test('one of a variant in counts: the variant keeps its figure, and the next step names the one', () => {
  const { next, ranking } = answerIn(comparisonOf([...NEWTON, ...inUnit('counts', 'b one', 91_000)]))
  expect(next.text).toBe('Name the rig of b one 1: it counts in no figure yet.')
  expect(ranking[0]!.name).toBe('a')
})

test('many wait: they are counted, not listed', () => {
  const { next } = answerIn(comparisonOf([...NEWTON, ...inUnit('counts', 'c', 1e5, 2e5, 3e5, 4e5)]))
  expect(next.text).toBe('Name the rig of the 4 on another scale: they count in no figure yet.')
})

test('only one variant in newton: what is missing is the rig of the others', () => {
  const { headline } = answerIn(
    comparisonOf([...inUnit('N', 'a', 60, 61, 62), ...inUnit('counts', 'c', 1e5, 2e5)]),
  )
  expect(headline).toBe('Only a is measured in force: name the others’ rig.')
})

test('what was left out for another reason waits for no rig', () => {
  const [first, ...others] = inUnit('counts', 'c', 1e5, 2e5)
  const { groups } = comparisonOf([
    ...NEWTON,
    { ...first!, specimen: { ...first!.specimen, dropped: 'the grip opened' } },
    ...others,
  ])
  const c = groups.find(({ name }) => name === 'c')!
  expect(c.otherScale).toEqual(['c 2'])
  expect(c.dropped.map(({ why }) => why)).toEqual([
    'the grip opened',
    'its numbers are raw counts, no force: name its rig with a calibration',
  ])
})

test('all in counts: compared among themselves, and the last step is their rig', () => {
  const { headline, next } = answerIn(
    comparisonOf(NEWTON.map(({ specimen }) => ({ specimen, unit: 'counts' }))),
  )
  expect(headline).toBe('A holds most.')
  expect(next).toEqual({
    kind: 'check-scale',
    text: 'Calibrate the rig and name it for these pulls: their numbers are no forces yet.',
    perGroup: null,
  })
})
