import { expect, test } from 'vitest'
import { codeOf, idOf, mutantsOf, sampleOf } from '../../scripts/mutate.mjs'

const changes = (text: string) =>
  mutantsOf('src/core/x/y.ts', text).map(
    ({ start, end, now }) => text.slice(0, start) + now + text.slice(end),
  )

test('each change is one that a test can notice', () => {
  for (const [text, wanted] of [
    ['const a = b + c', ['const a = b - c']],
    ['const a = b < c', ['const a = b <= c']],
    ['const a = b === c && d', ['const a = b === c || d', 'const a = b !== c && d']],
    ['const a = !b', ['const a = (b)']],
    ['const a = 0.05', ['const a = 0.5']],
    ['const a = 0', ['const a = 1']],
    ['const a = 1e3', ['const a = 10000']],
    ['const a = true', ['const a = false']],
    ['const a = Math.max(b, c)', ['const a = Math.min(b, c)']],
    ['const a = b.filter(c)', ['const a = b']],
    ['if (a) b()', ['if (false) b()', 'if (a) ;']],
    ['const a = b ? c : d', ['const a = !(b) ? c : d']],
    ['a = b', [';']],
  ] as const)
    expect(changes(text), text).toEqual(wanted)
})

test('what no test of behaviour can notice is left alone', () => {
  for (const text of [
    "import { a } from 'b'",
    "export { a } from 'b'",
    'type A = 1 | 2',
    'interface A { b: 1 }',
    "const a = 'b' + c",
    'const a: 1 | 2 = b',
    "throw new RangeError('a' + 1)",
    "'use strict'",
  ])
    expect(changes(text), text).toEqual([])
})

const many = ['src/core/a/one.ts', 'src/core/a/two.ts', 'src/core/b/three.ts'].flatMap(file =>
  mutantsOf(
    file,
    Array.from({ length: file.includes('/b/') ? 9 : 18 }, (_, i) => `const v${i} = ${i}`).join('\n'),
  ),
)

test('comments and what stands above do not change the name of a change, nor the code of a file', () => {
  const file = 'src/core/x/y.ts'
  const plain = 'const a = b + 1\nconst c = d + 1'
  const told = '/** A sum. */\nconst a = b + 1 // one more\n\n// The same.\nconst c = d + 1'
  const ids = (text: string) => mutantsOf(file, text).map(idOf)
  expect(ids(told)).toEqual(ids(plain))
  expect(new Set(ids(plain)).size).toBe(4)
  expect(codeOf(file, told)).toBe(codeOf(file, plain))
  expect(codeOf(file, plain.replace('+', '-'))).not.toBe(codeOf(file, plain))
})

test('the same seed draws the same, a longer sample begins with the shorter, another seed draws otherwise', () => {
  const ids = (seed: number, count: number) => sampleOf(many, seed, count).map(idOf)
  expect(ids(1, 12)).toEqual(ids(1, 12))
  expect(ids(1, 12).slice(0, 5)).toEqual(ids(1, 5))
  expect(ids(2, 12)).not.toEqual(ids(1, 12))
  expect(new Set(ids(1, 45)).size).toBe(45)
})

test('of a folder with four times as many places twice as many are drawn', () => {
  const inA = sampleOf(many, 1, 18).filter(({ file }) => file.includes('/a/')).length
  expect(inA).toBe(12)
})
