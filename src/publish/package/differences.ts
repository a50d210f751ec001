/** A figure that is not what was published. */
export interface Difference {
  readonly file: string
  /** Field, or row and column: `results.peakForce.valueN`, `row 12, force_N`. */
  readonly field: string
  readonly published: unknown
  readonly recomputed: unknown
  /** Recomputed less published, where both are numbers. */
  readonly by: number | null
}

export interface Compared {
  /** Figures that were compared. */
  readonly figures: number
  readonly differences: readonly Difference[]
}

/**
 * Two processors may differ in the last digit of a logarithm or a power, and sums carry that on. What differs
 * by less than this share of the greater is the same figure.
 */
export const SAME_WITHIN = 1e-9

/** More than these say nothing new. */
const MOST_DIFFERENCES = 1000

const sameNumber = (a: number, b: number): boolean =>
  a === b || Math.abs(a - b) <= SAME_WITHIN * Math.max(Math.abs(a), Math.abs(b))

/** Two JSON values, leaf by leaf. The version of the engine is no figure. */
export function jsonDifferences(file: string, published: unknown, recomputed: unknown): Compared {
  const differences: Difference[] = []
  let figures = 0
  const note = (field: string, a: unknown, b: unknown): void => {
    const by = typeof a === 'number' && typeof b === 'number' ? b - a : null
    if (differences.length < MOST_DIFFERENCES)
      differences.push({ file, field: field || 'document', published: a ?? null, recomputed: b ?? null, by })
  }
  const walk = (a: unknown, b: unknown, field: string): void => {
    if (isTree(a) && isTree(b) && Array.isArray(a) === Array.isArray(b)) {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
        if (key === 'engine' && field === '') continue
        const at = Array.isArray(a) ? `${field}[${key}]` : field === '' ? key : `${field}.${key}`
        walk(Object.hasOwn(a, key) ? a[key] : undefined, Object.hasOwn(b, key) ? b[key] : undefined, at)
      }
      return
    }
    figures++
    const same = typeof a === 'number' && typeof b === 'number' ? sameNumber(a, b) : a === b
    if (!same) note(field, a, b)
  }
  walk(published, recomputed, '')
  return { figures, differences }
}

const isTree = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

/** The cells of a line that `quotedCell` wrote. */
const cellsOf = (line: string): string[] =>
  Array.from(`,${line}`.matchAll(/,(?:"((?:[^"]|"")*)"|([^,]*))/g), ([, quoted, plain]) =>
    quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'),
  )

/** Two tables of ours, cell by cell. Rows are counted from 1 after the line of names. */
export function csvDifferences(file: string, published: string, recomputed: string): Compared {
  const [a, b] = [published.split('\n'), recomputed.split('\n')]
  const names = cellsOf(b[0] ?? '')
  const differences: Difference[] = []
  for (let row = 0; row < Math.max(a.length, b.length); row++) {
    if (a[row] === b[row] || differences.length >= MOST_DIFFERENCES) continue
    const [left, right] = [cellsOf(a[row] ?? ''), cellsOf(b[row] ?? '')]
    for (let c = 0; c < Math.max(left.length, right.length); c++) {
      const [x = '', y = ''] = [left[c], right[c]]
      const numbers = x !== '' && y !== '' && Number.isFinite(Number(x)) && Number.isFinite(Number(y))
      if (x === y || (numbers && sameNumber(Number(x), Number(y)))) continue
      differences.push({
        file,
        field: `${row === 0 ? 'names' : `row ${row}`}, ${names[c] || `column ${c + 1}`}`,
        published: numbers ? Number(x) : x,
        recomputed: numbers ? Number(y) : y,
        by: numbers ? Number(y) - Number(x) : null,
      })
    }
  }
  return { figures: Math.max(0, b.length - 2) * names.length, differences }
}

/** Columns of numbers by their names, as a Parquet file holds them. */
export type Columns = ReadonlyMap<string, Float64Array>

export function columnDifferences(file: string, published: Columns, recomputed: Columns): Compared {
  const differences: Difference[] = []
  let figures = 0
  for (const name of new Set([...published.keys(), ...recomputed.keys()])) {
    const [a, b] = [published.get(name), recomputed.get(name)]
    if (a === undefined || b === undefined || a.length !== b.length) {
      const [published, recomputed] = [a?.length ?? null, b?.length ?? null]
      differences.push({ file, field: `rows of ${name}`, published, recomputed, by: null })
      continue
    }
    figures += a.length
    for (let i = 0; i < a.length && differences.length < MOST_DIFFERENCES; i++) {
      const [x, y] = [a[i]!, b[i]!]
      if (sameNumber(x, y) || (Number.isNaN(x) && Number.isNaN(y))) continue
      differences.push({
        file,
        field: `row ${i + 1}, ${name}`,
        published: x,
        recomputed: y,
        by: y - x,
      })
    }
  }
  return { figures, differences }
}
