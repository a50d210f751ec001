import { expect, test } from 'vitest'
import { z } from 'zod'
import { isNestedTooDeep } from '../../src/core/nestedJson.ts'
import { parseDocument } from '../../src/core/parseDocument.ts'

const nested = (depth: number): string => `${'['.repeat(depth)}${']'.repeat(depth)}`

test('depth counts, not length; brackets in strings do not', () => {
  expect(isNestedTooDeep(nested(200))).toBe(false)
  expect(isNestedTooDeep(nested(201))).toBe(true)
  expect(isNestedTooDeep(`${'{"a":'.repeat(201)}1`)).toBe(true)
  expect(isNestedTooDeep(`[${Array.from({ length: 500 }, () => '[[1]]').join(',')}]`)).toBe(false)
  expect(isNestedTooDeep(`[${Array.from({ length: 500 }, () => '{"a":{}}').join(',')}]`)).toBe(false)
  expect(isNestedTooDeep(JSON.stringify(`"\\"${'['.repeat(500)}`))).toBe(false)
})

test('a document that nests without end is a problem', () => {
  const read = parseDocument(nested(100_000), z.unknown(), { where: 'rig.json', schemaFile: 'rig.json' })
  expect(read).toMatchObject({ ok: false, problems: [{ where: 'rig.json' }] })
})
