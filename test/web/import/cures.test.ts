import { expect, test } from 'vitest'
import { readLog } from '../../../src/logs/index.ts'
import { curedBy, withFields, withOption } from '../../../src/web/import/cures.ts'

const problemsOf = (text: string, options = {}) => {
  const read = readLog(new TextEncoder().encode(text), 'x.csv', options)
  return read.ok ? [] : read.problems
}
const values = Array.from({ length: 60 }, (_, i) => (i < 50 ? (i % 7) + i / 3 : 0).toFixed(2))

test('values without times ask for the samples a second first, and that cures them', () => {
  const problems = problemsOf(values.join('\n'))
  expect(curedBy(problems)[0]).toBe('rateHz')
  expect(problemsOf(values.join('\n'), withOption({}, 'rateHz', '10'))).toEqual([])
})

test('an option of the command line is told as the field of the page', () => {
  const [problem] = problemsOf(values.join('\n'))
  const text = withFields(problem?.cure ?? '')
  expect(text).toContain('with “Samples a second”, for instance 80')
  expect(text).not.toContain('--')
})

test('what settles several problems is asked for once each, and only what the page has a field for', () => {
  const problem = { where: 'a.csv', what: 'is odd.', cure: 'Say.' }
  const fields = [['time', 'rateHz'], ['rateHz', 'unit'], ['mass']]
  expect(curedBy(fields.map(these => ({ ...problem, fields: these })))).toEqual(['time', 'rateHz', 'unit'])
  expect(curedBy([{ ...problem, cure: 'Give --unit.' }])).toEqual([])
})

test('a text without options has no fields', () =>
  expect(curedBy([{ where: 'a.csv', what: 'is empty.', cure: 'Check the logger.' }])).toEqual([]))

test('an emptied field is no longer said; a rate that is none is not taken', () => {
  expect(withOption({ unit: 'N', rateHz: 5 }, 'unit', ' ')).toEqual({ rateHz: 5 })
  expect(withOption({}, 'rateHz', '12,5')).toEqual({ rateHz: 12.5 })
  expect(withOption({ rateHz: 5 }, 'rateHz', '-3')).toEqual({})
})
