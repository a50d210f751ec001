import type { Specimen } from './specimen.ts'

export interface ModeOfGroup {
  readonly group: string
  /** `null` where nobody wrote down how it failed. */
  readonly mode: string | null
  readonly n: number
  readonly mean: number | null
}

/** Each group split by how its specimens failed, most frequent first; empty where no mode is known at all. */
export function byMode(specimens: readonly Specimen[]): ModeOfGroup[] {
  const kept = specimens.filter(s => s.dropped === null)
  if (!kept.some(s => s.mode !== null)) return []
  const groups = [...new Set(kept.map(s => s.group))]
  return groups.flatMap(group => {
    const own = kept.filter(s => s.group === group)
    const modes = [...new Set(own.map(s => s.mode))]
    return modes
      .map(mode => {
        const values = own.flatMap(s =>
          s.mode === mode && s.status === 'measured' && s.value !== null ? [s.value] : [],
        )
        return {
          group,
          mode,
          n: own.filter(s => s.mode === mode).length,
          mean: values.length > 0 ? values.reduce((a, b) => a + b, 0) / values.length : null,
        }
      })
      .sort((x, y) => y.n - x.n)
  })
}

/** Groups in which more than one known mode occurs. */
export const mixedGroups = (modes: readonly ModeOfGroup[]): string[] =>
  [...new Set(modes.map(m => m.group))].filter(
    group => modes.filter(m => m.group === group && m.mode !== null).length > 1,
  )
