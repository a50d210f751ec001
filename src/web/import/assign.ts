import type { NamedParts } from '../../core/statistics/compare/namePattern.ts'
import { isDay, type SpecimenFields } from '../../core/study.ts'
import { withoutEnding } from '../../core/withoutEnding.ts'
import type { SpecimenRow } from '../../logs/index.ts'
import type { Assignment, LogItem } from './types.ts'

export interface AssignBy {
  readonly rows: readonly SpecimenRow[]
  /** `null`: the pattern that was typed is none. */
  readonly pattern: ((name: string) => NamedParts | null) | null
}

/** File names are the same whatever their case: cameras, loggers and systems differ in it. */
const folded = (name: string): string => name.normalize('NFC').toLowerCase()
const bare = (name: string): string => name.split(/[/\\]/).at(-1) ?? name

/** The table's row of a log, by its name. */
export const rowOf = (rows: readonly SpecimenRow[], name: string): SpecimenRow | null =>
  rows.find(row => folded(bare(row.file)) === folded(name)) ?? null

/**
 * What a log is of. By hand counts first, then the table, then the pattern of file names; where nothing says, each log
 * is a specimen of its own, named as its file.
 */
export function assign({ file, byHand }: Pick<LogItem, 'file' | 'byHand'>, by: AssignBy): Assignment {
  const row = rowOf(by.rows, file.name)
  const parts = by.pattern?.(file.name) ?? null
  const numbered = parts === null || parts.n === null ? null : `${parts.variant} ${parts.n}`
  return {
    specimen: byHand.specimen ?? row?.specimen ?? numbered ?? withoutEnding(file.name),
    variant: byHand.variant ?? row?.variant ?? parts?.variant ?? '',
    from:
      byHand.specimen !== undefined || byHand.variant !== undefined
        ? 'hand'
        : row
          ? 'table'
          : parts
            ? 'pattern'
            : 'name',
    row,
    parts,
  }
}

/** What the names of its logs tell of a specimen beside whose it is, by a pattern that has a field for it. */
export function factsByName({
  logs,
}: SpecimenGroup): Pick<SpecimenFields, 'operator' | 'batch' | 'pulledOn' | 'pullOrder'> {
  const of = (field: 'operator' | 'batch' | 'day' | 'order'): string | null =>
    logs.map(({ assignment }) => assignment.parts?.[field] ?? null).find(told => told !== null) ?? null
  const day = of('day')
  return {
    operator: of('operator') ?? '',
    batch: of('batch') ?? '',
    pulledOn: day !== null && isDay(day) ? day : null,
    pullOrder: Number(of('order') ?? 0) || null,
  }
}

/** The logs of one specimen, in the order in which they are joined. */
export interface SpecimenGroup {
  readonly specimen: string
  readonly variant: string
  readonly row: SpecimenRow | null
  readonly logs: readonly { readonly item: LogItem; readonly assignment: Assignment }[]
}

/** Logs of one specimen together, specimens in the order of their first log. What the first log of one says counts. */
export function specimenGroups(items: readonly LogItem[], by: AssignBy): SpecimenGroup[] {
  const groups = new Map<string, SpecimenGroup>()
  for (const item of items) {
    const assignment = assign(item, by)
    const specimen = assignment.specimen.trim()
    const known = groups.get(specimen)
    groups.set(specimen, {
      specimen,
      variant: known?.variant || assignment.variant.trim(),
      row: known?.row ?? assignment.row,
      logs: [...(known?.logs ?? []), { item, assignment }],
    })
  }
  return [...groups.values()]
}

/**
 * The logs that are dropped twice at once, by their bytes, each with the one that counts: that of the shortest name, as
 * a copy is called after what it is a copy of.
 */
export function twins(items: readonly LogItem[]): ReadonlyMap<number, LogItem> {
  const first = new Map<string, LogItem>()
  const known = items.filter(({ look }) => look !== null)
  for (const item of known.toSorted((a, b) => a.file.name.length - b.file.name.length)) {
    const sha256 = item.look?.sha256 ?? ''
    if (!first.has(sha256)) first.set(sha256, item)
  }
  return new Map(
    known.flatMap(item => {
      const counts = first.get(item.look?.sha256 ?? '')
      return counts && counts !== item ? [[item.id, counts]] : []
    }),
  )
}

/** Whether a log goes into the store when the person says so. */
export function goesIn(item: LogItem, twin: LogItem | undefined): boolean {
  if (item.leftOut || twin || item.kept === 'yes' || item.stale || !item.look?.read.ok) return false
  return item.known === null || isFree(item)
}

/** A log that is in the store already but on no specimen, or set aside: it can be put on this one. */
export const isFree = ({ known }: LogItem): boolean =>
  known !== null && (known.specimen === null || known.setAside !== null)
