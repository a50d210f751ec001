import { readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { beforeAll, describe, expect, test } from 'vitest'
import { compareText } from '../../src/cli/compare/compareText.ts'
import { answerIn } from '../../src/core/answer/answerOf.ts'
import { MOST_WORDS, wordsIn } from '../../src/core/answer/headline.ts'
import { differenceWords, isNeverBelowZero, placeWords, valueWords } from '../../src/core/answer/words.ts'
import type { Comparison } from '../../src/core/statistics/document.ts'
import { LOOKS } from '../../src/publish/figure/look.ts'
import { SHAPES } from '../../src/publish/figure/shape.ts'
import { studyFigure } from '../../src/publish/figure/studyFigure.ts'
import { readmeOf } from '../../src/publish/package/readme.ts'
import { answerPageOf } from '../../src/publish/report/answer.ts'
import { reportHtml } from '../../src/publish/report/html.ts'
import { reportMarkdown } from '../../src/publish/report/markdown.ts'
import { reportOf } from '../../src/publish/report/report.ts'
import type { PublishedStudy } from '../../src/publish/study/study.ts'
import { good } from '../store/stores.ts'
import { ODD_STUDIES } from './oddStudies.ts'
import { toldDemo } from './toldDemo.ts'

const PAGE = fileURLToPath(new URL('../../docs/five-seconds.md', import.meta.url))
const HEAD = `# The answer in five seconds

What a stranger who sees a page, a figure or the terminal for five seconds has read: the headline, at most ${MOST_WORDS} words.
Beneath it stand the ranking, the doubts with the gravest first, and the one next step. This page is what the program
says of the demo and of four odd studies; a test makes it anew and compares it. Write it with
\`TENTERHOOK_README=write npx vitest run test/publish/fiveSeconds.test.ts\`.
`

let demo: PublishedStudy
let studies: { what: string; comparison: Comparison }[]
beforeAll(async () => {
  demo = await toldDemo()
  studies = [
    {
      what: 'The demo: three ways to fix a handle, five specimens each, one left out.',
      comparison: demo.comparison!,
    },
    ...ODD_STUDIES,
  ]
}, 60_000)

/** The answer of a study as a stranger reads it. */
function told({ what, comparison }: { what: string; comparison: Comparison }): string {
  const { headline, ranking, doubts, next } = answerIn(comparison)
  const unit = { unit: 'N', per: 1 }
  const neverBelow = isNeverBelowZero(comparison.quantity, comparison.specimens)
  const lines = ranking.map(({ name, place, value, noValue, difference }) =>
    [
      placeWords(place),
      name,
      valueWords({ value, noValue }, unit, neverBelow),
      differenceWords(difference, unit),
    ]
      .filter(text => text !== '')
      .join(' · '),
  )
  return [
    `## ${what}`,
    `> **${headline}** (${wordsIn(headline)} words)`,
    lines.map(line => `- ${line}`).join('\n'),
    ...(doubts.length === 0 ? [] : [doubts.map(({ text }) => `- Doubt: ${text}`).join('\n')]),
    `Next: ${next.text}`,
  ].join('\n\n')
}

test('the headlines are those that are written down, none of more than twelve words', () => {
  const page = `${[HEAD.trimEnd(), ...studies.map(told)].join('\n\n')}\n`
  if (process.env.TENTERHOOK_README === 'write') writeFileSync(PAGE, page)
  expect(readFileSync(PAGE, 'utf8')).toBe(page)
  for (const { comparison } of studies)
    expect(wordsIn(answerIn(comparison).headline)).toBeLessThanOrEqual(MOST_WORDS)
})

const io = { out: () => {}, err: () => {}, outIsTerminal: false, errIsTerminal: false, columns: 100, env: {} }
const plain = (text: string): string => text.replaceAll('\u00a0', ' ').replace(/\s+/g, ' ')

/** The words over a figure: the lines of its heading, which alone are set bold over the plot. */
const wordsOf = (svg: string): string =>
  plain([...svg.matchAll(/<text [^>]*>([^<]+)</g)].map(([, text]) => text).join(' '))

describe.each([0, 1, 2, 3, 4])('study %i', i => {
  test('every door says the same headline, and figures carry it alone', async () => {
    const { comparison } = studies[i]!
    const study: PublishedStudy = { ...demo, comparison }
    const { headline } = answerIn(comparison)
    expect(plain(compareText(comparison, null, io)).startsWith(headline)).toBe(true)
    for (const report of [reportOf(study), answerPageOf(study)]) {
      expect(report.sections[0]!.blocks[0]).toMatchObject({ text: headline, tone: 'lead' })
      const html = plain(await reportHtml({ ...report, sections: report.sections.slice(0, 1) }))
      expect(html).toContain(`<p class="lead">${headline}</p>`)
      expect(reportMarkdown(report, { folder: 'f' }).text).toContain(`**${headline}**`)
    }
    expect(readmeOf(study, { licence: null, authors: [] }, [])).toContain(`**${headline}**`)
    for (const what of ['answer', 'dots', 'weibull', 'overlay'] as const) {
      const svg = good(studyFigure(study, what, { look: LOOKS.light, shape: SHAPES.page }))
      expect(wordsOf(svg), what).toContain(headline)
      expect(wordsOf(svg), what).not.toContain(comparison.verdict)
    }
  })
})
