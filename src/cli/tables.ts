import type { LogPart } from '../logs/index.ts'

/** What is said of a file with several tables: what is done with them, and how to have them as one. */
export interface TablesWords {
  readonly done: string
  readonly does: string
  readonly asOne: string
}

type Parts = readonly { readonly part: LogPart }[]

/** Whether each table is a specimen of its own: as asked, else where each has a name. */
export const areApart = (parts: Parts, each: boolean | undefined): boolean =>
  each ?? parts.every(({ part }) => part.title !== null)

/** Says of the tables of a file which way they were taken, and how to have it the other way. */
export function tablesTold(
  parts: Parts,
  isEach: boolean,
  isOneRead: boolean,
  { done, does, asOne }: TablesWords,
): string {
  const titles = parts.flatMap(({ part: { title } }) => (title === null ? [] : [`“${title}”`]))
  const isBeside = parts.some(({ part }) => part.isBeside)
  const names = titles.length === 0 ? '' : ` (${titles.join(', ')})`
  const tables = `${parts.length} tables${names}${isBeside ? ' side by side' : ''}`
  if (isEach)
    return `${tables}, each ${done} as a specimen of its own${isOneRead && !isBeside ? `; ${asOne}` : ''}.`
  return isOneRead && !isBeside
    ? `${tables}, ${done} as one specimen; --each ${does} each for itself.`
    : `${tables}; --each ${does} each for itself.`
}
