import { describe, expect, test } from 'vitest'
import { slug, slugMaker } from '../../../src/publish/package/slugs.ts'

describe('a slug', () => {
  test.each([
    ['Größe 3/b.CSV', 'grosse-3-b.csv'],
    ['paste-1.csv', 'paste-1.csv'],
    ['..', 'x'],
    ['../../etc/passwd', 'etc-passwd'],
    ['日本語', 'x'],
    ['CON', 'x-con'],
    ['nul.csv', 'x-nul.csv'],
    ['a. .b', 'a.b'],
    ['.hidden', 'hidden'],
    ['name.', 'name'],
    [`${'long '.repeat(30)}.csv`, 'long-long-long-long-long-long-long-long-long-long-long-l.csv'],
  ])('of %j is %j', (name, wanted) => {
    expect(slug(name, 'x')).toBe(wanted)
  })

  test('is given once; the next of the same gets a number before its ending', () => {
    const own = slugMaker()
    expect(['a.csv', 'A.CSV', 'a-2.csv', 'a.csv', '', ''].map(name => own(name, 'x'))).toEqual([
      'a.csv',
      'a-2.csv',
      'a-2-2.csv',
      'a-3.csv',
      'x',
      'x-2',
    ])
  })
})
