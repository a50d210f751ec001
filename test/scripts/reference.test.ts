import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { examplesOf, publicNames, referencePage, rooms } from '../../scripts/reference.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

test.each(rooms)(
  'every example of %s belongs to a public function, and stands on its page as it is run',
  room => {
    const names = publicNames(join(root, 'src', room, 'index.ts')).map(({ name }) => name)
    const examples = examplesOf(join(root, 'test', 'examples', `${room}.test.ts`))
    const page = readFileSync(join(root, 'docs', 'reference', `${room}.md`), 'utf8')
    expect(examples.size).toBeGreaterThan(5)
    expect([...examples.keys()].filter(name => !names.includes(name))).toEqual([])
    for (const [name, example] of examples) {
      const section = page.split(/^## /m).find(text => text.startsWith(`${name}\n`))
      expect(section, `npm run reference, for ${name}`).toContain(example)
    }
  },
)

test.each(rooms)('a page of %s has every public name with its declaration', room => {
  const page = referencePage(room)
  for (const { name } of publicNames(join(root, 'src', room, 'index.ts')))
    expect(page).toMatch(new RegExp(`^## ${name}\n\n\`\`\`ts\n[^\`]*\\b${name}\\b`, 'm'))
})

test('a declaration is shown without what it does, under its comment', () => {
  const page = referencePage('core')
  const section = page.split(/^## /m).find(text => text.startsWith('meanInterval\n'))!
  expect(section).toContain(
    'export function meanInterval(values: ArrayLike<number>, confidence = 0.95): Interval | null\n```',
  )
  expect(section).toContain('m ± t · s/√n')
  expect(section).not.toContain('return')
})
