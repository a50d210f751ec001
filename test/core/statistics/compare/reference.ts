import { readFileSync } from 'node:fs'

/** Published and recomputed values; each file says where its figures come from. */
const folder = new URL('../../../reference/', import.meta.url)

export const referenceJson = (name: string) => JSON.parse(readFileSync(new URL(name, folder), 'utf8'))

/** Values of one column of a data set, by the labels of another, in the order in which they first occur. */
export function groupsOf(file: string, value: string, by: string): Map<string, Float64Array> {
  const rows = rowsOf(file)
  const groups = new Map<string, number[]>()
  for (const row of rows) {
    const label = row[by]!
    groups.set(label, [...(groups.get(label) ?? []), Number(row[value])])
  }
  return new Map([...groups].map(([label, values]) => [label, Float64Array.from(values)]))
}

export function rowsOf(file: string): Record<string, string>[] {
  const [head, ...lines] = readFileSync(new URL(`datasets/${file}`, folder), 'utf8')
    .trim()
    .split(/\r?\n/)
  const names = head!.split(',')
  return lines.map(line => Object.fromEntries(line.split(',').map((cell, i) => [names[i]!, cell])))
}

/** A result of R or SciPy on a data set, by its name; the call that made it stands beside it in the file. */
export function rResult(id: string) {
  const { results } = referenceJson('dataset_reference_results.json')
  const found = results.find((r: { id: string }) => r.id === id)
  if (!found) throw new Error(`no result “${id}” in dataset_reference_results.json`)
  return found.value
}

/** Digits in common: −log10 of the relative difference, 15 at most. */
export const digits = (value: number, certified: number): number =>
  value === certified ? 15 : Math.min(15, -Math.log10(Math.abs((value - certified) / certified)))
