import { describe, expect, test } from 'vitest'
import type { Compared } from '../../../src/web/compare/comparedStudies.ts'
import { ownNumbers } from '../../../src/web/compare/ownNumbers.ts'

const one = (id: string, group: string, name: string): Compared => ({
  id,
  studyId: 's',
  group,
  name,
  updatedAt: '',
})
const specimens = [
  one('1', 'paste', 'paste-1'),
  one('2', 'paste', 'Wheat paste 2'),
  one('3', 'glue', 'glue-1'),
]
const numbers = (text: string) => [...ownNumbers(text, specimens).of]

describe('numbers typed or pasted for each specimen', () => {
  test.each([
    ['a tab, as from a sheet', 'paste-1\t0.31\nglue-1\t0.4\n'],
    ['blanks and a decimal comma', 'paste-1 0,31\r\n  glue-1   0,4  '],
    ['signs', 'paste-1 = 0.31\nGLUE-1; 0.4'],
    ['a heading', 'name\tglue, g\npaste-1\t0.31\n\nglue-1\t0.4'],
  ])('%s', (_, text) => {
    expect(numbers(text)).toEqual([
      ['1', 0.31],
      ['3', 0.4],
    ])
    expect(ownNumbers(text, specimens).unknown).toEqual([])
  })
  test('a name with blanks; the last line counts of a specimen that comes twice', () =>
    expect(numbers('wheat paste 2 7\nwheat paste 2 -8')).toEqual([['2', -8]]))
  test('what is no specimen or no number is told, and never a number', () => {
    const { of, unknown } = ownNumbers('paste-1 0.31\npaste-9 1\nglue-1 much', specimens)
    expect([...of.keys()]).toEqual(['1'])
    expect(unknown).toEqual(['paste-9 1', 'glue-1 much'])
    expect(ownNumbers('paste-9 1', specimens).unknown).toEqual(['paste-9 1'])
  })
  test('a name that two studies have needs its variant before it', () => {
    const both = [one('1', 'A: paste', 'paste-1'), one('2', 'B: paste', 'paste-1')]
    expect(ownNumbers('paste-1 3', both).unknown).toEqual(['paste-1 3'])
    expect([...ownNumbers('B: paste paste-1 3', both).of]).toEqual([['2', 3]])
  })
})
