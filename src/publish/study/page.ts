/** The parts of a report in their usual order; a page may leave out some, or order them otherwise. */
export const SECTIONS = [
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
] as const
export type SectionName = (typeof SECTIONS)[number]

/** A part of the report, with what the maker says before it. */
export interface PartBlock {
  readonly kind: 'part'
  readonly part: SectionName
  readonly shown: boolean
  /** May be empty; an empty line parts paragraphs. */
  readonly words: string
}

/** A section in the maker's own words. */
export interface OwnBlock {
  readonly kind: 'own'
  /** Unique on the page; lower-case letters and digits. */
  readonly id: string
  readonly shown: boolean
  readonly heading: string
  readonly words: string
}

export type PageBlock = PartBlock | OwnBlock

/** How the report of a study is put together, version 1: kept with the study, and the same for every way to make it. */
export interface ToldPage {
  readonly version: 1
  readonly blocks: readonly PageBlock[]
  /** Specimens, by name, whose curve and ledger are not shown; the page says so. */
  readonly folded: readonly string[]
}

export const USUAL_PAGE: ToldPage = {
  version: 1,
  blocks: SECTIONS.map(part => ({ kind: 'part', part, shown: true, words: '' })),
  folded: [],
}

/** As it is kept with a study: `null` for the usual one, which may gain parts with time. */
export const keptPage = (page: ToldPage): ToldPage | null =>
  JSON.stringify(page) === JSON.stringify(USUAL_PAGE) ? null : page

const MOST_OWN = 50
const MOST_LETTERS = 10_000

/** Care is on every page: who reads how it was done may do it. */
export const isAlwaysShown = (block: PageBlock): boolean => block.kind === 'part' && block.part === 'care'

/**
 * The page that was kept, as far as it still makes sense: parts that it does not know of are shown in their usual order
 * at its end, so that nothing goes missing where a later version knows more. What is no page at all is the usual one.
 */
export function pageFrom(kept: unknown): ToldPage {
  const { version, blocks, folded } = fieldsOf(kept)
  if (version !== 1 || !Array.isArray(blocks)) return USUAL_PAGE
  const known = new Set<string>()
  const good: PageBlock[] = []
  for (const one of blocks.slice(0, SECTIONS.length + MOST_OWN)) {
    const block = blockFrom(one)
    const key = block === null ? null : keyOf(block)
    if (block === null || key === null || known.has(key)) continue
    known.add(key)
    good.push(block)
  }
  const missing = USUAL_PAGE.blocks.filter(block => !known.has(keyOf(block)))
  return {
    version: 1,
    blocks: [...good, ...missing],
    folded: Array.isArray(folded) ? folded.filter(name => typeof name === 'string') : [],
  }
}

/** Names a block on its page. */
export const keyOf = (block: PageBlock): string => (block.kind === 'part' ? block.part : `own-${block.id}`)

function blockFrom(value: unknown): PageBlock | null {
  const { kind, part, shown, words, id, heading } = fieldsOf(value)
  const said = { shown: shown !== false, words: textFrom(words) }
  if (kind === 'own')
    return typeof id === 'string' && /^[a-z0-9]{1,20}$/.test(id)
      ? { kind, id, heading: textFrom(heading).slice(0, 200), ...said }
      : null
  const name = SECTIONS.find(one => one === part)
  if (kind !== 'part' || name === undefined) return null
  const block: PartBlock = { kind, part: name, ...said }
  return isAlwaysShown(block) ? { ...block, shown: true } : block
}

const fieldsOf = (value: unknown): Record<string, unknown> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}

const textFrom = (value: unknown): string => (typeof value === 'string' ? value.slice(0, MOST_LETTERS) : '')

/** The page with only these parts, in this order; what the maker says before each stays. */
export const withParts = (page: ToldPage, parts: readonly SectionName[]): ToldPage => ({
  ...page,
  blocks: parts.flatMap(name => {
    const block = page.blocks.find(one => one.kind === 'part' && one.part === name)
    return block === undefined ? [] : [{ ...block, shown: true }]
  }),
})
