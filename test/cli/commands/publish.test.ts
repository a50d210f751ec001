import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ran } from '../fakeIo.ts'

const record = (name: string) => fileURLToPath(new URL(`../../records/${name}`, import.meta.url))
const logs = ['tabs-1', 'tabs-2', 'tabs-3', 'brittle-1', 'brittle-2', 'brittle-3'].map(name =>
  record(`${name}.csv`),
)

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-publish-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const out = (name: string) => join(folder, name)

/** Width and height of a PNG (PNG specification, IHDR). */
const sizeOf = (path: string): [number, number] => {
  const bytes = readFileSync(path)
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)]
}

describe('figure', () => {
  test('an SVG carries its typeface unless told not to, and its description', async () => {
    expect((await ran(['figure', 'dots', '--out', out('a.svg'), ...logs])).code).toBe(0)
    const svg = readFileSync(out('a.svg'), 'utf8')
    expect(svg).toContain('src: url(data:font/ttf;base64,')
    expect(svg).toMatch(/<desc>[^<]*tabs: /)
    expect((await ran(['figure', 'dots', '--no-fonts', '--out', out('b.svg'), ...logs])).code).toBe(0)
    expect(readFileSync(out('b.svg'), 'utf8')).not.toContain('@font-face')
  })
  test.each([
    ['wide', 1920, 1080],
    ['square', 1080, 1080],
    ['upright', 1080, 1350],
  ])('a PNG for %s is %d × %d', async (shape, width, height) => {
    const words = ['figure', 'pull', '--shape', shape, '--look', 'dark', '--out', out('a.png'), ...logs]
    expect((await ran(words)).code).toBe(0)
    expect(sizeOf(out('a.png'))).toEqual([width, height])
  })
  test('a specimen by its name; one that is not there is told with those that are', async () => {
    const words = ['figure', 'pull', '--out', out('c.svg'), '--specimen']
    expect((await ran([...words, 'tabs 2', ...logs])).code).toBe(0)
    expect(readFileSync(out('c.svg'), 'utf8')).toContain('>tabs 2')
    const wrong = await ran([...words, 'tabs 9', ...logs])
    expect(wrong.code).toBe(3)
    expect(wrong.err).toContain('“tabs 1”')
  })
  test('one log alone needs no variant, whatever it is called; several do', async () => {
    const path = out('-= strap<b>.csv')
    copyFileSync(logs[0]!, path)
    expect((await ran(['figure', 'pull', '--out', out('one.svg'), path])).code).toBe(0)
    expect(readFileSync(out('one.svg'), 'utf8')).toContain('>-= strap&#60;b&#62;</text>')
    const two = await ran(['figure', 'pull', '--out', out('two.svg'), path, logs[1]!])
    expect(two.code).toBe(3)
    expect(two.err).toContain('nothing says which variant it is of')
  })
  test('what is not there is told with its cure: calibration, checks, curves of readings alone', async () => {
    for (const what of ['calibration', 'check']) {
      const told = await ran(['figure', what, '--out', out('d.svg'), ...logs])
      expect(told.code).toBe(3)
      expect(told.err).toContain('tenterhook c')
    }
  })
  test.each([
    ['a shape that is none', ['figure', 'dots', '--shape', 'round', '--out', 'a.svg', 'x.csv']],
    ['an ending that is none', ['figure', 'dots', '--out', 'a.gif', 'x.csv']],
    ['a figure that is none', ['figure', 'pie', '--out', 'a.svg', 'x.csv']],
    ['no file to write', ['figure', 'dots', 'x.csv']],
    ['no study', ['figure', 'dots', '--out', 'a.svg']],
    [
      'options of files with a study',
      ['figure', 'dots', '--out', 'a.svg', '--study', 'x', '--rig', 'r.json'],
    ],
  ])('%s is told as such', async (_, words) => expect((await ran(words)).code).toBe(2))
})

describe('report', () => {
  test('one page with everything inside', async () => {
    const words = ['report', '--name', 'Tabs', '--question', 'Which holds?', '--out', out('r.html'), ...logs]
    const told = await ran(words)
    expect(told.code, told.err).toBe(0)
    const page = readFileSync(out('r.html'), 'utf8')
    expect(page).toContain('<h1>Tabs</h1>')
    expect(page).toContain('Which holds?')
    expect(page.match(/ data-curve/g)?.length).toBeGreaterThanOrEqual(6)
    expect(page).toContain('data:font/ttf')
  })
  test('Markdown with its pictures beside it', async () => {
    const told = await ran(['report', '--out', out('blog.md'), ...logs])
    expect(told.code, told.err).toBe(0)
    const paths = [...readFileSync(out('blog.md'), 'utf8').matchAll(/\]\(([^)]+\.png)\)/g)].map(
      ([, path]) => path!,
    )
    expect(paths.length).toBeGreaterThan(6)
    for (const path of paths) expect(existsSync(out(path)), path).toBe(true)
  })
  test('PDF without a browser', async () => {
    const told = await ran(['report', '--out', out('r.pdf'), ...logs], {
      env: { TENTERHOOK_BROWSER: 'none' },
    })
    expect(told.code, told.err).toBe(0)
    expect(readFileSync(out('r.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
  })
  test('a folder that is not there is told, an ending that is none too', async () => {
    const told = await ran(['report', '--out', out('none/r.html'), ...logs])
    expect(told.code).toBe(4)
    expect(told.err).toContain('its folder is not there')
    expect((await ran(['report', '--out', 'r.doc', ...logs])).code).toBe(2)
  })
})
