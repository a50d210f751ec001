import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { ZERO_PRIORS } from '../../../../src/core/reading/priors.ts'
import { priorsTable, withPart } from './writeFigures.ts'

const page = readFileSync(new URL('../../../../docs/reading.md', import.meta.url), 'utf8')

test('the page of the reading has the parts that the script writes, and they are written', () => {
  for (const part of ['priors', 'made', 'real']) {
    const emptied = withPart(page, part, '')
    expect(emptied, part).not.toBe(page)
    expect(page.length - emptied.length, part).toBeGreaterThan(200)
  }
})

test('a prior stands in the table with its value and unit', () => {
  const { value, unit } = ZERO_PRIORS.holdTime
  expect(priorsTable()).toContain(`| \`holdTime\` | ${value} | ${unit} |`)
})

test('a part of a page is written anew and the rest stays', () => {
  const text = 'a\n<!-- made: made by a script -->\nold\n<!-- end of made -->\nb\n'
  expect(withPart(text, 'made', 'new')).toBe(text.replace('old', 'new'))
  expect(withPart(withPart(text, 'made', 'x'), 'made', 'new')).toBe(text.replace('old', 'new'))
  expect(withPart(text, 'other', 'new')).toBe(text)
})
