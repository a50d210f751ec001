import { typedNumber } from '../parts/typed.ts'
import { clipboardCells } from '../specimens/clipboard.ts'
import type { Compared } from './comparedStudies.ts'

export interface ReadNumbers {
  /** By the id of the specimen. */
  readonly of: ReadonlyMap<string, number>
  /** Lines of which the specimen or the number could not be told. */
  readonly unknown: readonly string[]
}

/**
 * Numbers measured on each specimen, as typed or pasted: a line each, the name and then the number, parted by a tab, a
 * semicolon, an equals sign, a colon or blanks. Of a specimen that comes twice the last line counts. A name that several studies
 * have must stand behind its variant, as the comparison has it (`other study: paste paste-1`); a first line whose last cell
 * is no number is a heading.
 */
export function ownNumbers(text: string, specimens: readonly Compared[]): ReadNumbers {
  const known = new Map<string, string | null>()
  const put = (name: string, id: string) => known.set(name, known.has(name) ? null : id)
  for (const { id, name, group } of specimens) {
    put(folded(name), id)
    put(folded(`${group} ${name}`), id)
  }
  const of = new Map<string, number>()
  const unknown: string[] = []
  for (const [i, cells] of clipboardCells(text).entries()) {
    const line = cells.filter(Boolean).join(' ')
    if (line === '') continue
    const [, name = '', number = ''] = /^(.*?)[\s;=:]+([^\s;=:]+)$/.exec(line) ?? []
    const value = typedNumber(number)
    const id = known.get(folded(name)) ?? null
    if (value !== null && id !== null) of.set(id, value)
    else if (i > 0 || value !== null) unknown.push(line)
  }
  return { of, unknown }
}

const folded = (name: string): string => name.trim().replace(/\s+/g, ' ').toLowerCase()
