import type { PublishedPhoto } from '../study/study.ts'
import type { Block, FigureBlock, LedgerRow, Report, TableBlock } from './block.ts'

export interface ReportMarkdown {
  readonly text: string
  /** What the text points to, to be written beside it under these names. */
  readonly figures: readonly { readonly path: string; readonly figure: FigureBlock }[]
  readonly photos: readonly { readonly path: string; readonly photo: PublishedPhoto }[]
}

const ENDINGS = { 'image/jpeg': 'jpg', 'image/png': 'png', 'image/webp': 'webp' } as const

/**
 * A report as Markdown for a blog (CommonMark, tables as GitHub has them), figures and photos beside it in `folder`.
 * Everything that is not ours is escaped: it stays text.
 */
export function reportMarkdown(report: Report, { folder }: { folder: string }): ReportMarkdown {
  const figures: { path: string; figure: FigureBlock }[] = []
  const photos: { path: string; photo: PublishedPhoto }[] = []
  const blockText = (block: Block): string => {
    switch (block.kind) {
      case 'text':
        return textOf(block.text, block.tone)
      case 'heading':
        return `### ${plain(block.text)}`
      case 'list':
        return block.items.map((item, i) => `${block.ordered ? `${i + 1}.` : '-'} ${plain(item)}`).join('\n')
      case 'table':
        return tableText(block)
      case 'folded':
        return [`**${plain(block.heading)}**`, ...block.blocks.map(blockText)].join('\n\n')
      case 'ledger':
        return ledgerText(block.rows, block.under)
      case 'figure': {
        const path = `${folder}/${block.name}.png`
        figures.push({ path, figure: block })
        return `![${plain(block.caption)}](${target(path)})`
      }
      case 'photo': {
        const path = `${folder}/photo-${photos.length + 1}.${ENDINGS[block.photo.mime]}`
        photos.push({ path, photo: block.photo })
        return `![${plain(block.photo.caption || block.photo.name)}](${target(path)})`
      }
    }
  }
  const parts = [
    `# ${plain(report.title)}`,
    ...(report.question === '' ? [] : [`**${plain(report.question)}**`]),
    `*${plain(report.about)}*`,
    ...report.sections.flatMap(({ heading, blocks }) => [`## ${plain(heading)}`, ...blocks.map(blockText)]),
  ]
  return { text: `${parts.join('\n\n')}\n`, figures, photos }
}

/** Text as Markdown that reads as the text itself: no emphasis, link, heading, list, table or HTML comes of it. */
export const plain = (text: string): string =>
  text
    .replace(/\s+/g, ' ')
    .replace(/[\\`*_{}[\]<>|~#&]/g, sign =>
      sign === '<' ? '&lt;' : sign === '>' ? '&gt;' : sign === '&' ? '&amp;' : `\\${sign}`,
    )
    .replace(/^(\d+)([.)])/, '$1\\$2')
    .replace(/^([-+=])/, '\\$1')
    // A bare address would become a link.
    .replace(/(https?|ftp):\/\//gi, '$1:\u200b//')
    .replace(/\bwww\./gi, match => `${match.slice(0, 3)}\u200b.`)

const target = (path: string): string =>
  encodeURI(path).replace(/[()]/g, sign => (sign === '(' ? '%28' : '%29'))

function textOf(text: string, tone: 'lead' | 'pencil' | 'warning' | undefined): string {
  if (tone === 'lead') return `**${plain(text)}**`
  if (tone === 'warning') return `> ${plain(text)}`
  return plain(text)
}

const rowText = (cells: readonly string[]): string => `| ${cells.map(plain).join(' | ')} |`

const tableText = ({ caption, head, rows }: TableBlock): string =>
  [
    `${plain(caption)}\n`,
    rowText(head),
    `| ${head.map((_, i) => (i === 0 ? '---' : '---:')).join(' | ')} |`,
    ...rows.map(rowText),
  ].join('\n')

const ledgerText = (rows: readonly LedgerRow[], under: readonly string[]): string =>
  [
    [
      '| amount | of what |',
      '| ---: | --- |',
      ...rows.map(({ amount, text, total }) =>
        total ? `| **${plain(amount)}** | **${plain(text)}** |` : rowText([amount, text]),
      ),
    ].join('\n'),
    ...under.map(plain),
  ].join('\n\n')
