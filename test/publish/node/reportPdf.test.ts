import { readFileSync } from 'node:fs'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { beforeAll, describe, expect, test } from 'vitest'
import { fontFiles } from '../../../src/publish/node/assets.ts'
import { lettersOf } from '../../../src/publish/node/pdf/fontLetters.ts'
import { reportPdf } from '../../../src/publish/node/reportPdf.ts'
import { reportOf } from '../../../src/publish/report/report.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { good } from '../../store/stores.ts'
import { toldDemo } from '../toldDemo.ts'

let study: PublishedStudy
beforeAll(async () => {
  study = await toldDemo()
}, 60_000)

interface ReadPdf {
  readonly text: string
  readonly pages: number
  readonly title: string
  readonly outline: readonly string[]
  readonly tagged: boolean
}

/** What another program reads in a PDF. */
async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const pdf = await getDocument({ data: bytes, verbosity: 0 }).promise
  const texts: string[] = []
  for (let n = 1; n <= pdf.numPages; n++) {
    const { items } = await (await pdf.getPage(n)).getTextContent()
    texts.push(items.map(item => ('str' in item ? item.str : '')).join(' '))
  }
  const { info } = await pdf.getMetadata()
  const mark = await pdf.getMarkInfo()
  const outline = (await pdf.getOutline()) ?? []
  return {
    text: texts.join('\n').replace(/\s+/g, ' '),
    pages: pdf.numPages,
    title: String((info as { Title?: unknown }).Title ?? ''),
    outline: outline.flatMap(one => [one.title, ...one.items.map((item: { title: string }) => item.title)]),
    tagged: mark !== null && (mark as { Marked?: unknown }).Marked === true,
  }
}

/** Three specimens, so that printing is quick. */
const short = (): PublishedStudy => ({ ...study, specimens: study.specimens.slice(0, 3) })
/** With a letter that the shipped typeface lacks. */
const foreign = (): PublishedStudy => ({ ...short(), method: `${study.method}\n\nКлей` })

describe.each([
  ['drawn', short],
  ['printed by a browser for its letters', foreign],
])('%s', (_, told) => {
  let pdf: ReadPdf
  beforeAll(async () => {
    const { madeAt } = told()
    pdf = await readPdf(good(await reportPdf(reportOf(told()), { madeAt, env: process.env })))
  }, 60_000)

  test('says what the report says', () => {
    for (const words of [
      'Carrier-bag handles',
      'Which of three ways holds best?',
      study.comparison?.verdict.slice(0, 40) ?? '',
      'Glued on one day.',
      'hot-melt-2: ',
      'greatest reading',
      'Mary Ann Evans',
      'Wear eye protection',
      'How to cite',
      '±',
    ])
      expect(pdf.text).toContain(words)
  })
  test('has a title and an outline to go by', () => {
    expect(pdf.title).toBe('Carrier-bag handles')
    for (const heading of ['Answer', 'Rig and calibration', 'Care'])
      expect(pdf.outline.join('\n')).toContain(heading)
    expect(pdf.pages).toBeGreaterThan(3)
  })
})

describe('the whole demo', () => {
  let pdf: Uint8Array
  beforeAll(async () => {
    pdf = good(await reportPdf(reportOf(study), { madeAt: study.madeAt, env: process.env }))
  }, 60_000)

  test('stays small: its figures are lines and letters, not pictures', () => {
    expect(pdf.length).toBeLessThan(1_000_000)
    expect(Buffer.from(pdf).includes('/Subtype /Image')).toBe(false)
  })
  test('the words in its figures can be found', async () => {
    const { text } = await readPdf(Uint8Array.from(pdf))
    for (const words of [
      'Put together at the start of loading',
      'How the peak force scatters',
      'loading time, s',
    ])
      expect(text).toContain(words)
  })
})

test('what is read aloud has headings, lists, tables and a word for each figure', async () => {
  const told = short()
  const bytes = good(await reportPdf(reportOf(told), { madeAt: told.madeAt, env: process.env }))
  const pdf = await getDocument({ data: bytes, verbosity: 0 }).promise
  const roles: string[] = []
  const alts: string[] = []
  const walk = (node: unknown): void => {
    const { role, alt, children } = node as { role?: string; alt?: string; children?: unknown[] }
    if (role !== undefined) roles.push(role)
    if (alt !== undefined) alts.push(alt)
    for (const child of children ?? []) walk(child)
  }
  for (let n = 1; n <= pdf.numPages; n++) walk(await (await pdf.getPage(n)).getStructTree())
  expect(new Set(roles)).toEqual(
    new Set([...new Set(roles), 'H1', 'H2', 'H3', 'P', 'L', 'LI', 'Table', 'TR', 'TH', 'TD', 'Figure']),
  )
  expect(alts).toContain('hot-melt-2: force over time')
})

test('without a browser letters that the typeface lacks are no obstacle', async () => {
  const told = { ...foreign(), specimens: [] }
  const pdf = await readPdf(
    good(
      await reportPdf(reportOf(told, ['method']), {
        madeAt: told.madeAt,
        env: { TENTERHOOK_BROWSER: 'none' },
      }),
    ),
  )
  expect(pdf.text).toContain('Glued on one day.')
})

/** The blocks that the typeface is made for, and one letter of others; its own list is in assets/fonts. */
test('knows the letters of the typeface', () => {
  for (const file of fontFiles()) {
    const has = lettersOf(readFileSync(file))
    for (const letter of 'Az09±−·…“”’–×é€ßÅøž ')
      expect([letter, has(letter.codePointAt(0)!)]).toEqual([letter, true])
    for (const letter of 'Жξ世あ🙂') expect([letter, has(letter.codePointAt(0)!)]).toEqual([letter, false])
  }
})

test('a drawn one is the same for the same study', async () => {
  const told = { ...short(), specimens: [] }
  const draw = async () =>
    good(
      await reportPdf(reportOf(told, ['answer', 'care']), {
        madeAt: told.madeAt,
        env: { TENTERHOOK_BROWSER: 'none' },
      }),
    )
  expect(Buffer.from(await draw()).equals(Buffer.from(await draw()))).toBe(true)
})

test('a browser that makes no PDF is told by its name', async () => {
  const { printPdf } = await import('../../../src/publish/node/printPdf.ts')
  const outcome = await printPdf('<p>x</p>', '/bin/false')
  expect(outcome.ok).toBe(false)
  expect(JSON.stringify(outcome)).toContain('TENTERHOOK_BROWSER')
})
