import { namePattern } from '../../core/statistics/compare/namePattern.ts'
import type { OpenStudy } from '../data/backend.ts'
import { type AssignBy, goesIn, type SpecimenGroup, specimenGroups, twins } from './assign.ts'
import type { ImportState } from './importState.ts'
import type { LogItem } from './types.ts'

/** All that follows from what lies on the table. */
export interface ImportPlan {
  readonly groups: readonly SpecimenGroup[]
  /** Only what goes into the store, in order. */
  readonly goingIn: readonly SpecimenGroup[]
  readonly twins: ReadonlyMap<number, LogItem>
  /** Logs that cannot be understood, or could not be kept, and are not left out. */
  readonly troubled: readonly LogItem[]
  readonly patternIsBad: boolean
  readonly by: AssignBy
}

export function importPlan(state: ImportState, open: OpenStudy | null): ImportPlan {
  const pattern = namePattern(state.pattern)
  const by: AssignBy = {
    rows: state.tables.flatMap(table => table.rows),
    pattern: pattern.ok ? pattern.value : null,
  }
  const twin = twins(state.items)
  // A specimen that is in the study already keeps its variant, whatever its log is called.
  const groups = specimenGroups(state.items, by).map(group => ({
    ...group,
    variant: variantThere(open, group.specimen) ?? group.variant,
  }))
  return {
    groups,
    goingIn: groups
      .map(group => ({ ...group, logs: group.logs.filter(({ item }) => goesIn(item, twin.get(item.id))) }))
      .filter(group => group.logs.length > 0),
    twins: twin,
    troubled: state.items.filter(item => !item.leftOut && problemsWith(item).length > 0),
    patternIsBad: !pattern.ok,
    by,
  }
}

/** Name of the variant that a specimen of the study has. */
export function variantThere(open: OpenStudy | null, specimen: string): string | null {
  const known = open?.specimens.find(({ name }) => name === specimen)
  return open?.variants.find(({ id }) => id === known?.variantId)?.name ?? null
}

/** What stands in the way of a log. */
export const problemsWith = ({ look, problems }: LogItem) =>
  look && !look.read.ok ? [...look.read.problems, ...problems] : problems

export const countLogs = (groups: readonly SpecimenGroup[]): number =>
  groups.reduce((sum, { logs }) => sum + logs.length, 0)
