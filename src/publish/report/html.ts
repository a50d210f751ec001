import { keepTogether } from '../../core/units/keepTogether.ts'
import type { LookName } from '../figure/look.ts'
import { SHAPES } from '../figure/shape.ts'
import { escapeXml } from '../figure/svg.ts'
import type { PublishedPhoto } from '../study/study.ts'
import { base64 } from './base64.ts'
import type {
  Block,
  CurveData,
  FigureBlock,
  FoldedBlock,
  LedgerRow,
  Report,
  Section,
  TableBlock,
} from './block.ts'
import { PAGE_LOOK, pageColours } from './pageLook.ts'
import { PAGE_SCRIPT, PAGE_SCRIPT_SHA256 } from './pageScript.ts'
import { PAGE_STYLE } from './pageStyle.ts'

export interface ReportHtmlOptions {
  /** `system`: light or dark as the reader's system asks. On paper it is always that of print. */
  readonly look?: LookName | 'system'
  /** `@font-face` rules with the fonts inside, so that it looks the same everywhere. */
  readonly fontFaces?: string
  /** To be printed at once: without what paper has no use for (figures for a phone, curves to look closer at). */
  readonly isForPaper?: boolean
}

/**
 * A report as one page that opens from disk and asks nothing of a network. Its curves can be looked at closer by a
 * script that the page allows by its hash; without it they stand as they are. Text is escaped throughout: nothing that a
 * log, a name or a note says can become markup.
 */
export async function reportHtml(report: Report, options: ReportHtmlOptions = {}): Promise<string> {
  let page = ''
  for await (const piece of reportHtmlPieces(report, options)) page += piece
  return page
}

/** The same, a piece after the other: head, sections, foot. */
export async function* reportHtmlPieces(
  report: Report,
  { look = 'system', fontFaces = '', isForPaper = false }: ReportHtmlOptions = {},
): AsyncGenerator<string> {
  yield `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'sha256-${PAGE_SCRIPT_SHA256}'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'">
<title>${escapeXml(report.title)}</title>
<link rel="icon" href="data:,">
<style>${fontFaces}${pageColours(look)}${PAGE_STYLE}</style>
</head>
<body>
<main>
<header>
<h1>${said(report.title)}</h1>
${report.question === '' ? '' : `<p class="question">${said(report.question)}</p>\n`}<p class="pencil">${said(report.about)}</p>
</header>
${report.sections.length > 1 ? contents(report.sections) : ''}
`
  for (const { name, heading, blocks } of report.sections) {
    yield `<section aria-labelledby="${name}">
<h2 id="${name}">${escapeXml(heading)}</h2>
`
    for (const block of blocks) yield `${await blockHtml(block, isForPaper)}\n`
    yield '</section>\n'
  }
  yield `</main>
<script>${PAGE_SCRIPT}</script>
</body>
</html>
`
}

const contents = (sections: readonly Section[]): string =>
  `<nav aria-label="Contents"><ul>${sections
    .map(({ name, heading }) => `<li><a href="#${name}">${escapeXml(heading)}</a></li>`)
    .join('')}</ul></nav>`

/** Text as it stands on the page: no line breaks within a figure and its unit. */
const said = (text: string): string => escapeXml(keepTogether(text))

function blockHtml(block: Block, isForPaper: boolean): string | Promise<string> {
  switch (block.kind) {
    case 'text':
      return `<p${block.tone === undefined ? '' : ` class="${block.tone}"`}>${said(block.text)}</p>`
    case 'heading':
      return `<h3 id="${escapeXml(block.anchor)}">${said(block.text)}</h3>`
    case 'list': {
      const tag = block.ordered ? 'ol' : 'ul'
      return `<${tag}>${block.items.map(item => `<li>${said(item)}</li>`).join('')}</${tag}>`
    }
    case 'table':
      return tableHtml(block)
    case 'folded':
      return foldedHtml(block, isForPaper)
    case 'ledger':
      return ledgerHtml(block.rows, block.under)
    case 'figure':
      return figureHtml(
        isForPaper ? { ...block, curve: null } : block,
        isForPaper ? ['page'] : ['page', 'upright'],
      )
    case 'photo':
      return photoHtml(block.photo)
  }
}

async function foldedHtml({ heading, blocks }: FoldedBlock, isForPaper: boolean): Promise<string> {
  const inside = await Promise.all(blocks.map(block => blockHtml(block, isForPaper)))
  return `<details${isForPaper ? ' open' : ''}>
<summary>${said(heading)}</summary>
${inside.join('\n')}
</details>`
}

function tableHtml({ caption, head, rows }: TableBlock): string {
  const row = (cells: readonly string[], tag: 'th' | 'td'): string =>
    `<tr>${cells
      .map((cell, i) =>
        tag === 'th'
          ? `<th scope="col">${said(cell)}</th>`
          : i === 0
            ? `<th scope="row">${said(cell)}</th>`
            : `<td>${said(cell)}</td>`,
      )
      .join('')}</tr>`
  return `<div class="scroll" tabindex="0" role="group" aria-label="Table"><table>
<caption>${said(caption)}</caption>
<thead>${row(head, 'th')}</thead>
<tbody>${rows.map(cells => row(cells, 'td')).join('')}</tbody>
</table></div>`
}

const ledgerHtml = (rows: readonly LedgerRow[], under: readonly string[]): string =>
  `<div class="ledger"><table>${rows
    .map(
      row =>
        `<tr${row.total ? ' class="total"' : ''}><td>${said(row.amount)}</td><td>${said(row.text)}</td></tr>`,
    )
    .join('')}</table>
${under.map(text => `<p class="pencil">${said(text)}</p>`).join('\n')}</div>`

/** A figure in the shape of the page and, for a phone, upright: the style sheet shows one of the two. */
function figureHtml(
  { name, caption, draw, curve }: FigureBlock,
  shapes: readonly ('page' | 'upright')[],
): string {
  const drawn = shapes.map(shape => {
    const svg = draw({ look: PAGE_LOOK, shape: SHAPES[shape], prefix: `${name}-${shape}` })
    return `<div class="${shape}">${svg.trimEnd()}</div>`
  })
  const label = escapeXml(`Figure: ${caption}`)
  return `<figure id="figure-${escapeXml(name)}" aria-label="${label}"${curve === null ? '' : ' data-curve'}>
${drawn.join('\n')}
${curve === null ? '' : `<script type="application/json">${curveJson(curve)}</script>\n`}<figcaption>${said(caption)}</figcaption>
</figure>`
}

/** Numbers and a unit alone; the sign that could end the block is written as its code all the same. */
const curveJson = (curve: CurveData): string => JSON.stringify(curve).replaceAll('<', '\\u003c')

async function photoHtml({ name, caption, mime, bytes }: PublishedPhoto): Promise<string> {
  const source = `data:${mime};base64,${base64(await bytes())}`
  const words = escapeXml(caption === '' ? name : caption)
  return `<figure><img src="${source}" alt="${words}"><figcaption>${words}</figcaption></figure>`
}
