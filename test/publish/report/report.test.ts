import { createHash } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { LOOKS } from '../../../src/publish/figure/look.ts'
import { SHAPES } from '../../../src/publish/figure/shape.ts'
import { answerPageOf } from '../../../src/publish/report/answer.ts'
import type { Block, Report } from '../../../src/publish/report/block.ts'
import { reportHtml } from '../../../src/publish/report/html.ts'
import { plain, reportMarkdown } from '../../../src/publish/report/markdown.ts'
import { PAGE_SCRIPT, PAGE_SCRIPT_SHA256 } from '../../../src/publish/report/pageScript.ts'
import { reportOf } from '../../../src/publish/report/report.ts'
import { withInitials } from '../../../src/publish/study/initials.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { hostileDemo, toldDemo } from '../toldDemo.ts'

let study: PublishedStudy
let report: Report
beforeAll(async () => {
  study = await toldDemo()
  report = reportOf(study)
}, 60_000)

const blocksOf = (name: string): readonly Block[] =>
  report.sections.find(one => one.name === name)?.blocks ?? []
const wordsOf = (name: string): string =>
  blocksOf(name)
    .map(block => {
      if (block.kind === 'text' || block.kind === 'heading') return block.text
      if (block.kind === 'list') return block.items.join('\n')
      if (block.kind === 'table') return block.rows.flat().join(' ')
      return ''
    })
    .join('\n')

describe('what a report says', () => {
  test('its parts stand in the order of reading', () =>
    expect(report.sections.map(one => one.name)).toEqual([
      'answer',
      'equivalents',
      'figures',
      'method',
      'rig',
      'specimens',
      'adjusted',
      'spoiled',
      'notes',
      'care',
      'cite',
    ]))
  test('some of them, in another order, where asked so', () =>
    expect(reportOf(study, ['care', 'answer']).sections.map(one => one.name)).toEqual(['care', 'answer']))
  test('the headline first, then the ranking and the doubts, then the figures that it stands on', () => {
    const [first, ranking] = blocksOf('answer')
    expect(first).toEqual({ kind: 'text', text: study.comparison?.answer?.headline, tone: 'lead' })
    expect(ranking).toMatchObject({ kind: 'list' })
    expect(wordsOf('answer')).toContain('The scale was not checked')
    const tables = blocksOf('answer').filter(block => block.kind === 'table')
    expect(tables.map(table => table.rows.length)).toEqual([3])
  })
  test('every pair as a table and in sentences is one press away, and open on paper', async () => {
    const { verdict, inStatistics } = study.comparison!
    expect(wordsOf('answer')).not.toContain(verdict)
    const folded = blocksOf('answer').filter(block => block.kind === 'folded')
    expect(folded.map(({ heading }) => heading)).toEqual(['Every pair, and the whole of it in words'])
    const [pairs, ...rest] = folded[0]!.blocks
    expect(pairs?.kind === 'table' && pairs.rows.map(([pair]) => pair)).toEqual(
      study.comparison!.pairs.map(pair => `${pair.a} less ${pair.b}`),
    )
    expect(rest.map(block => block.kind === 'text' && block.text)).toEqual(
      expect.arrayContaining([verdict, `In statistics: ${inStatistics}`]),
    )
    const page = { ...report, sections: report.sections.slice(0, 1) }
    expect(await reportHtml(page)).toMatch(/<details>\n<summary>Every pair/)
    expect(await reportHtml(page, { isForPaper: true })).toMatch(/<details open>\n<summary>Every pair/)
    expect(reportMarkdown(page, { folder: 'figures' }).text).toMatch(/\| hot-melt less wheat-paste \|/)
  })
  test('the answer on one page: headline, ranking, one figure, what it does not show, no table', () => {
    const { title, sections } = answerPageOf(study)
    expect(title).toBe(study.question)
    expect(sections).toHaveLength(1)
    const blocks = sections[0]!.blocks
    expect(blocks.filter(({ kind }) => kind === 'figure')).toHaveLength(1)
    expect(blocks.filter(({ kind }) => kind === 'table')).toHaveLength(0)
    expect(JSON.stringify(blocks)).toContain('Not shown')
    expect(blocks.at(-1)).toMatchObject({ text: 'Results are for comparison, not for rating gear.' })
  })
  test('a list of contents leads to several parts, never to one', async () => {
    expect(await reportHtml(reportOf(study))).toContain('<nav')
    expect(await reportHtml(answerPageOf(study))).not.toContain('<nav')
  })
  test('means in the familiar weights of the maker', () =>
    expect(wordsOf('equivalents')).toMatch(/hot-melt: on average .*1-litre milk cartons/))
  test('the rig with its class, its doubt and its checks', () => {
    expect(wordsOf('rig')).toMatch(/limits of class (0\.5|1) from/)
    expect(wordsOf('rig')).toContain('Checked 7 times')
    expect(wordsOf('rig')).toContain('9.81')
  })
  test('without a rig it says that the scale is not checked', () => {
    const bare = reportOf({ ...study, rig: null, checks: [] }, ['rig']).sections[0]
    expect(JSON.stringify(bare?.blocks)).toContain('scale was not checked')
  })
  test('every specimen with its curve and everything that made its figure', () => {
    const blocks = blocksOf('specimens')
    expect(blocks.filter(block => block.kind === 'heading')).toHaveLength(15)
    expect(blocks.filter(block => block.kind === 'figure' && block.curve !== null)).toHaveLength(15)
    expect(wordsOf('specimens')).toContain(study.specimens[0]?.logs[0]?.sha256)
  })
  test('the amounts of a ledger add up to its sum as they are written', () => {
    const ledgers = blocksOf('specimens').filter(block => block.kind === 'ledger')
    expect(ledgers.length).toBeGreaterThan(10)
    for (const { rows } of ledgers) {
      const amounts = rows.map(({ amount }) =>
        Number(amount.replace('−', '-').replace(/^([-+]?) ?([\d.]+).*/, '$1$2')),
      )
      const total = amounts.pop() ?? Number.NaN
      const digits = /\.(\d+)/.exec(rows.at(-1)?.amount ?? '')?.[1]?.length ?? 0
      const sum = amounts.reduce((a, b) => a + b, 0)
      expect(Math.abs(sum - total), rows.map(r => r.amount).join(' ')).toBeLessThanOrEqual(
        0.5 * rows.length * 10 ** -digits + 1e-9,
      )
    }
  })
  test('what was left out and why, and what reached no figure', () => {
    expect(wordsOf('spoiled')).toContain('hot-melt-5 was left out: the bag tore')
    expect(wordsOf('adjusted')).toBe('No reading was adjusted by hand.')
  })
  test('adjustments with who, when and why', () => {
    const [first, ...others] = study.specimens
    const adjustment = {
      id: 'z',
      kind: 'zero-here' as const,
      fromS: 1,
      toS: 2.5,
      who: 'Ada Lindner',
      when: '2026-05-04T14:20:00Z',
      why: 'the grip hung free here',
    }
    const adjusted = {
      ...study,
      specimens: [{ ...first!, reading: { ...first!.reading!, adjustments: [adjustment] } }, ...others],
    }
    const words = (told: PublishedStudy) => JSON.stringify(reportOf(told, ['adjusted']).sections[0]?.blocks)
    expect(words(adjusted)).toContain(
      'hot-melt-1: zero taken from 1.00 s to 2.50 s. the grip hung free here (Ada Lindner, 2026-05-04)',
    )
    expect(words(withInitials(adjusted))).toContain('(A. L., 2026-05-04)')
  })
  test('a study with nothing pulled yet is told all the same', () => {
    const empty = reportOf({
      ...study,
      specimens: [],
      comparison: null,
      notCompared: 'No specimen has been pulled and read yet.',
      rig: null,
    })
    expect(empty.sections[0]?.blocks[0]).toMatchObject({ text: 'No specimen has been pulled and read yet.' })
  })
})

describe('the page', () => {
  test('allows its own script by its hash, and nothing of a network', async () => {
    expect(createHash('sha256').update(PAGE_SCRIPT).digest('base64')).toBe(PAGE_SCRIPT_SHA256)
    const page = await reportHtml(report)
    expect(page).toContain(`script-src 'sha256-${PAGE_SCRIPT_SHA256}'`)
    expect(page.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:\/\//)
  })
  test('has each curve in two shapes, described, and ids that come once', async () => {
    const page = await reportHtml(report)
    expect(page.match(/<svg /g)?.length).toBe(2 * (15 + 5))
    expect(page.match(/<desc>[^<]{20,}<\/desc>/g)?.length).toBe(2 * (15 + 5))
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(page).not.toMatch(/NaN|undefined|Infinity/)
  })
  test('nothing that a log, a name or a note says becomes markup', async () => {
    const page = await reportHtml(reportOf(hostileDemo(study)))
    expect(page).not.toMatch(/<img src=x/)
    expect(page.match(/<script/g)?.length).toBe(1 + 2)
    expect(page.match(/<\/script/g)?.length).toBe(1 + 2)
  })
})

describe('Markdown', () => {
  test('has the same headings, and its figures beside it', () => {
    const { text, figures } = reportMarkdown(report, { folder: 'report-figures' })
    for (const { heading } of report.sections) expect(text).toContain(`\n## ${heading}\n`)
    expect(figures).toHaveLength(20)
    for (const { path } of figures) expect(text).toContain(`](${path})`)
    const svg = figures[0]?.figure.draw({ look: LOOKS.light, shape: SHAPES.page, prefix: 'a' })
    expect(svg).toMatch(/^<svg /)
  })
  test.each([
    ['# heading', '\\# heading'],
    ['1. list', '1\\. list'],
    ['- list', '\\- list'],
    ['a_b*c`d`', 'a\\_b\\*c\\`d\\`'],
    ['[x](javascript:1)', '\\[x\\](javascript:1)'],
    ['a | b', 'a \\| b'],
    ['<b>&amp;', '&lt;b&gt;&amp;amp;'],
    ['two\nlines', 'two lines'],
  ])('%s stays text', (text, markdown) => expect(plain(text)).toBe(markdown))
  test('hostile text stays text', () => {
    const { text } = reportMarkdown(reportOf(hostileDemo(study)), { folder: 'f' })
    expect(text).not.toMatch(/<(?!\/?$)/)
  })
})
