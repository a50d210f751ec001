import { keyOf, type OwnBlock, type PageBlock, type ToldPage } from '../../publish/study/page.ts'

/** A block at another place; places are counted from 0 and kept within the page. */
export function moved(page: ToldPage, key: string, to: number): ToldPage {
  const from = page.blocks.findIndex(block => keyOf(block) === key)
  const block = page.blocks[from]
  if (block === undefined) return page
  const others = page.blocks.toSpliced(from, 1)
  return { ...page, blocks: others.toSpliced(Math.min(Math.max(to, 0), others.length), 0, block) }
}

/** The page with one block changed. */
export const changed = (page: ToldPage, block: PageBlock): ToldPage => ({
  ...page,
  blocks: page.blocks.map(one => (keyOf(one) === keyOf(block) ? block : one)),
})

export const without = (page: ToldPage, key: string): ToldPage => ({
  ...page,
  blocks: page.blocks.filter(block => keyOf(block) !== key),
})

/** The page with a part in the maker's own words at its head. */
export function withOwn(
  page: ToldPage,
  heading: string,
): { readonly page: ToldPage; readonly block: OwnBlock } {
  const taken = new Set(page.blocks.map(keyOf))
  let n = 1
  while (taken.has(`own-${n}`)) n++
  const block: OwnBlock = { kind: 'own', id: String(n), shown: true, heading, words: '' }
  return { page: { ...page, blocks: [block, ...page.blocks] }, block }
}

/** A specimen shown one by one, or named only. */
export const folded = (page: ToldPage, specimen: string, isFolded: boolean): ToldPage => ({
  ...page,
  folded: [...page.folded.filter(name => name !== specimen), ...(isFolded ? [specimen] : [])],
})
