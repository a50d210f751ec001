import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { ran } from './cli/fakeIo.ts'

const root = fileURLToPath(new URL('..', import.meta.url))
const readme = join(root, 'README.md')
const figure = join(root, 'docs/example/handle-2.svg')
/** `TENTERHOOK_README=write` puts the present output and figure into the README, to be looked at before a commit. */
const write = process.env.TENTERHOOK_README === 'write'

const EXAMPLES = /<!-- the output of: tenterhook ([^\n]+) -->\n```\n([\s\S]*?)```/g

test('the examples of the README are what the commands print today', async () => {
  const text = readFileSync(readme, 'utf8')
  const examples = [...text.matchAll(EXAMPLES)]
  expect(examples.length).toBeGreaterThan(0)
  let fresh = text
  for (const [block, command, shown] of examples) {
    const words = command!.split(' ').map(word => (word.startsWith('docs/') ? join(root, word) : word))
    const { out } = await ran(words)
    if (write) fresh = fresh.replace(block, block.replace(`\`\`\`\n${shown}`, `\`\`\`\n${out}`))
    else expect(shown).toBe(out)
  }
  if (write) writeFileSync(readme, fresh)
})

test('the figure of the README is that of today', async () => {
  const log = join(root, 'docs/example/handle-2.log')
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-readme-'))
  const fresh = write ? figure : join(folder, 'handle-2.svg')
  await ran(['read', '--elements', '8', '--figure', fresh, log])
  expect(readFileSync(figure, 'utf8')).toBe(readFileSync(fresh, 'utf8'))
  rmSync(folder, { recursive: true })
})

test('every command that the help names stands in the README', async () => {
  const names = [...(await ran(['--help'])).out.matchAll(/^ {2}([a-z]+) /gm)].map(match => match[1]!)
  const text = readFileSync(readme, 'utf8')
  for (const name of names) expect(text).toMatch(new RegExp(`\`(tenterhook )?${name}\``))
})
