import { readFileSync } from 'node:fs'
import type { Block, Report } from '../../report/block.ts'
import { fontFiles } from '../assets.ts'
import { lettersOf } from './fontLetters.ts'

/** Whether the shipped typeface has every letter of a report, and a PDF can take in each of its photos. */
export function isDrawable({ title, question, about, sections }: Report): boolean {
  const fonts = fontFiles().map(file => lettersOf(readFileSync(file)))
  const hasLetters = (text: string): boolean =>
    Array.from(text).every(letter => isBlank(letter) || fonts.every(has => has(letter.codePointAt(0)!)))
  return (
    [title, question, about].every(hasLetters) &&
    sections.every(
      ({ heading, blocks }) =>
        hasLetters(heading) && blocks.every(block => textsOf(block).every(hasLetters) && !isWebp(block)),
    )
  )
}

const isBlank = (letter: string): boolean => /\s/.test(letter)

const isWebp = (block: Block): boolean => block.kind === 'photo' && block.photo.mime === 'image/webp'

/** What a block says. The words of a figure are names and units that stand in the text too. */
function textsOf(block: Block): readonly string[] {
  switch (block.kind) {
    case 'text':
    case 'heading':
      return [block.text]
    case 'list':
      return block.items
    case 'table':
      return [block.caption, ...block.head, ...block.rows.flat()]
    case 'folded':
      return [block.heading, ...block.blocks.flatMap(textsOf)]
    case 'ledger':
      return [...block.rows.flatMap(({ amount, text }) => [amount, text]), ...block.under]
    case 'figure':
      return [block.caption]
    case 'photo':
      return [block.photo.caption, block.photo.name]
  }
}
