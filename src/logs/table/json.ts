import { parseClock } from '../cells/stamp.ts'
import { FEWEST_SAMPLES } from '../meaning/logProblems.ts'
import type { KeyedCell, KeyRows } from './keyRows.ts'
import type { SampleTable } from './sampleTable.ts'

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json }

/** Takes one line of JSON Lines; gives false where it is no JSON. */
export function takeJsonLine(text: string, line: number, rows: KeyRows): boolean {
  const value = parsed(text.replace(/,\s*$/, ''))
  if (value === undefined || value === null || typeof value !== 'object') return false
  return rows.takeCells(cellsOfSample(value, []), text, line) === 'row'
}

export function parsed(text: string): Json | undefined {
  try {
    return JSON.parse(text) as Json
  } catch {
    return undefined
  }
}

/** A sample as named cells: nested objects are named with dots, arrays by position. */
function cellsOfSample(value: Json, names: readonly string[], prefix = '', depth = 0): KeyedCell[] {
  if (value === null || typeof value === 'boolean') return []
  if (typeof value === 'number' || typeof value === 'string') return [[prefix, value]]
  if (depth > 4) return []
  const entries: (readonly [string, Json])[] = Array.isArray(value)
    ? value.slice(0, 256).map((item, i) => [names[i] ?? `${i + 1}`, item as Json])
    : Object.entries(value).slice(0, 256)
  return entries.flatMap(([key, item]) =>
    cellsOfSample(item, [], prefix === '' ? key : `${prefix}.${key}`, depth + 1),
  )
}

export interface JsonSamples {
  readonly samples: readonly Json[]
  /** Names of the places of a sample that is an array. */
  readonly names: readonly string[]
  /** Everything beside the samples, as `key: value` lines. */
  readonly texts: readonly string[]
}

/**
 * Finds the samples of one JSON document: the longest array of arrays, objects or numbers, or arrays of one
 * length side by side.
 */
export function samplesOfDocument(document: Json): JsonSamples | null {
  const texts: string[] = []
  const lists: { readonly path: string; readonly words: readonly string[] }[] = []
  let best: readonly Json[] = []
  const visit = (value: Json, path: string, depth: number): void => {
    if (depth > 8 || value === null) return
    if (Array.isArray(value)) {
      const items = value as readonly Json[]
      if (items.length > 0 && items.length < 256 && items.every(item => typeof item === 'string')) {
        const words = items.map(String)
        texts.push(`${path}: ${words.join(', ')}`)
        if (words.some(word => parseClock(word) === null)) lists.push({ path, words })
        return
      }
      const series = seriesOf(items)
      if (series && series.length > best.length) best = series
      else if (items.length > best.length) best = named(items, path)
      if (!series && items.length < FEWEST_SAMPLES)
        for (const item of items)
          if (item !== null && typeof item === 'object' && !Array.isArray(item)) visit(item, path, depth + 1)
      return
    }
    if (typeof value !== 'object') {
      texts.push(`${path}: ${String(value)}`)
      return
    }
    const columns = sideBySide(value as { readonly [key: string]: Json })
    if (columns && columns.length > best.length) best = columns
    for (const [key, item] of Object.entries(value)) {
      if (!(columns && Array.isArray(item)))
        visit(item as Json, path === '' ? key : `${path}.${key}`, depth + 1)
    }
  }
  visit(document, '', 0)
  return best.length === 0 ? null : { samples: best, names: namesOf(lists, best), texts }
}

/**
 * Of lists of words, the one that names the places of a sample: by what it is called, else as long as a
 * sample is.
 */
function namesOf(
  lists: readonly { readonly path: string; readonly words: readonly string[] }[],
  samples: readonly Json[],
): readonly string[] {
  const [first] = samples
  const width = Array.isArray(first) ? first.length : 0
  const fitting = lists.filter(({ words }) => words.length === width)
  const named = fitting.find(({ path }) =>
    /names?$|columns?$|fields?$|header|labels?$|channels?$|keys$/i.test(path),
  )
  return (named ?? fitting[0])?.words ?? []
}

/**
 * `[{ "name": "force", "unit": "N", "values": [..] }, ..]` → a sample for each place of the values; `null`
 * for others.
 */
function seriesOf(items: readonly Json[]): readonly Json[] | null {
  if (items.length < 2 || items.length > 256) return null
  const columns: Record<string, readonly Json[]> = {}
  for (const item of items) {
    if (item === null || typeof item !== 'object' || Array.isArray(item)) return null
    const entries = Object.entries(item as { readonly [key: string]: Json })
    const arrays = entries.flatMap(([, value]) => (Array.isArray(value) ? [value as readonly Json[]] : []))
    const word = (keys: RegExp): string => String(entries.find(([key]) => keys.test(key))?.[1] ?? '')
    const name = word(/^(?:name|label|title|channel|key|id|signal|quantity)$/i)
    const unit = word(/^units?$/i)
    if (arrays.length !== 1 || name === '') return null
    columns[unit === '' ? name : `${name} (${unit})`] = arrays[0]!
  }
  return sideBySide(columns)
}

/** Bare numbers under a key are a column of that name. */
function named(items: readonly Json[], path: string): readonly Json[] {
  const key = path.slice(path.lastIndexOf('.') + 1)
  return key !== '' && items.every(item => item === null || typeof item === 'number')
    ? items.map(item => ({ [key]: item }))
    : items
}

/**
 * `{ "t": [..], "f": [..] }` → a sample for each place of its arrays; `null` for an object that is not so.
 */
function sideBySide(object: { readonly [key: string]: Json }): readonly Json[] | null {
  const arrays = Object.entries(object).filter((entry): entry is [string, readonly Json[]] => {
    const value = entry[1]
    return (
      Array.isArray(value) &&
      value.length > 0 &&
      value.every(item => item === null || typeof item !== 'object')
    )
  })
  const length = arrays[0]?.[1].length ?? 0
  if (arrays.length < 2 || arrays.some(([, values]) => values.length !== length)) return null
  return Array.from({ length }, (_, i) =>
    Object.fromEntries(arrays.map(([key, values]) => [key, values[i] ?? null])),
  )
}

/** Takes the samples of a document into the table; the number of a sample stands for its line. */
export function takeJsonSamples({ samples, names }: JsonSamples, rows: KeyRows, table: SampleTable): void {
  for (const [i, sample] of samples.entries()) {
    const cells = typeof sample === 'number' ? [['', sample] as const] : cellsOfSample(sample, names)
    if (cells.length > 0) rows.takeCells(cells, shortText(sample), i + 1)
    else table.unread(i + 1, shortText(sample))
  }
}

/**
 * The beginning of a sample as JSON; of one that is nested too deeply to be written, what kind of thing it
 * is.
 */
function shortText(sample: Json): string {
  try {
    return JSON.stringify(sample).slice(0, 200)
  } catch {
    return Array.isArray(sample) ? '[…]' : '{…}'
  }
}
