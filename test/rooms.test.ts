import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const root = fileURLToPath(new URL('..', import.meta.url))
const MOST_FILES_WITHOUT_A_PAGE = 8
const MOST_LINES = 60

const folders = (from: string): string[] => [
  from,
  ...readdirSync(join(root, from), { withFileTypes: true })
    .filter(entry => entry.isDirectory())
    .flatMap(entry => folders(join(from, entry.name))),
]
const src = folders('src')
const isRoom = (folder: string) => dirname(folder) === 'src'
const filesOf = (folder: string) =>
  readdirSync(join(root, folder), { withFileTypes: true })
    .filter(entry => entry.isFile() && entry.name !== 'README.md')
    .map(entry => entry.name)

test('each room, and each folder of many files, has a page that says where to begin', () => {
  const without = src.filter(
    folder =>
      (isRoom(folder) || filesOf(folder).length > MOST_FILES_WITHOUT_A_PAGE) &&
      !existsSync(join(root, folder, 'README.md')),
  )
  expect(without, 'these folders need a README.md, as their neighbours have').toEqual([])
})

/** Names of files and folders that a page gives between backticks. */
const namesIn = (page: string): string[] =>
  [...page.matchAll(/`([^`\s]+)`/g)]
    .map(([, name]) => name!)
    .filter(name => /^[\w@./-]+(\.(tsx?|d\.mts|mjs|js|md|css|html)|\/)$/.test(name))

const upwards = (folder: string): string[] =>
  folder === '.' ? [folder] : [folder, ...upwards(dirname(folder))]

const pages = src.map(folder => join(folder, 'README.md')).filter(page => existsSync(join(root, page)))

test.each(pages)('%s is short, and what it names is there', page => {
  const text = readFileSync(join(root, page), 'utf8')
  expect(text.trimEnd().split('\n').length).toBeLessThanOrEqual(MOST_LINES)
  // A name is meant from its own folder, or from one above it.
  const from = upwards(dirname(page)).map(folder => join(root, folder))
  const gone = namesIn(text).filter(name => !from.some(folder => existsSync(join(folder, name))))
  expect(gone, `${relative('src', page)} names what is not there`).toEqual([])
})

test('a page that names a file which is gone is found', () => {
  expect(namesIn('see `run.ts`, `sub/`, `../route.ts`, `--json`, `Store` and `npm run x`')).toEqual([
    'run.ts',
    'sub/',
    '../route.ts',
  ])
})

/** The reference pages are made from the code, and made anew with it. */
const isMade = (folder: string) => folder === join('docs', 'reference')
const written = [
  'README.md',
  'CONTRIBUTING.md',
  ...folders('docs')
    .filter(folder => !isMade(folder))
    .flatMap(folder => filesIn(folder)),
]

function filesIn(folder: string): string[] {
  return readdirSync(join(root, folder))
    .filter(name => name.endsWith('.md'))
    .map(name => join(folder, name))
}

test.each(written)('%s leads only to what is there', page => {
  const links = [...readFileSync(join(root, page), 'utf8').matchAll(/\]\(([^)#\s]+)[^)]*\)/g)]
    .map(([, link]) => link!)
    .filter(link => !/^[a-z]+:/.test(link))
  expect(links.filter(link => !existsSync(join(root, dirname(page), link)))).toEqual([])
})
