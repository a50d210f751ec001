import { readFileSync } from 'node:fs'

/** A file of published check values from test/reference; each says where its figures come from. */
export const referenceText = (name: string): string => readFileSync(new URL(name, import.meta.url), 'utf8')

/** The same, parsed. The caller names the part of the shape that it uses. */
export const reference = <T>(name: string): T => JSON.parse(referenceText(name)) as T

/** One numeric column of a CSV with a header row, of the rows that `keep` takes. */
export function column(
  name: string,
  heading: string,
  keep: (row: Readonly<Record<string, string>>) => boolean = () => true,
): number[] {
  const [head = '', ...lines] = referenceText(name).trim().split('\n')
  const headings = head.trim().split(',')
  return lines
    .map(line =>
      Object.fromEntries(
        line
          .trim()
          .split(',')
          .map((cell, i) => [headings[i] ?? i, cell]),
      ),
    )
    .filter(keep)
    .map(row => Number(row[heading]))
}

/** |got/expected − 1|, or |got| where 0 is expected. */
export const relativeError = (got: number, expected: number): number =>
  got === expected ? 0 : expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1)

/** Decimal digits in common: −log10 of the relative error, at most 15. */
export const digits = (got: number, expected: number): number =>
  Math.min(15, -Math.log10(Math.max(relativeError(got, expected), 1e-15)))
