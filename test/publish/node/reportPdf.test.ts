import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { beforeAll, describe, expect, test } from 'vitest'
import { findBrowser } from '../../../src/publish/node/findBrowser.ts'
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

describe.each([
  ['printed by a browser', () => process.env],
  ['drawn without one', () => ({ TENTERHOOK_BROWSER: 'none' })],
])('%s', (_, env) => {
  let pdf: ReadPdf
  beforeAll(async () => {
    const told = short()
    pdf = await readPdf(good(await reportPdf(reportOf(told), { madeAt: told.madeAt, env: env() })))
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

test('what a browser prints is tagged, so that it can be read aloud', async () => {
  expect(findBrowser(process.env)).not.toBeNull()
  const told = { ...short(), specimens: [] }
  const pdf = await readPdf(
    good(await reportPdf(reportOf(told, ['answer']), { madeAt: told.madeAt, env: process.env })),
  )
  expect(pdf.tagged).toBe(true)
})

/** All fifteen specimens: what pictures there are in a print, photos aside, are drawn as lines and letters. */
test('the whole demo, printed, stays small', async () => {
  const pdf = good(await reportPdf(reportOf(study), { madeAt: study.madeAt, env: process.env }))
  expect(pdf.length).toBeLessThan(2_000_000)
  expect(Buffer.from(pdf).includes('/Subtype /Image')).toBe(false)
}, 120_000)

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
