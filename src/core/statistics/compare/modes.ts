import { tQuantile } from '../distributions/t.ts'
import { censoredMean } from '../group/censoredMean.ts'
import { mean as meanOf } from '../group/moments.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'

export interface ModeOfGroup {
  readonly group: string
  /** `null` where nobody wrote down how it failed. */
  readonly mode: string | null
  readonly n: number
  /** Mean strength against this way of failing; `null` where too few failed so. */
  readonly mean: number | null
  readonly ci95: readonly [number, number] | null
}

/**
 * Each group split by how its specimens failed, most frequent first; empty where no mode is known at all.
 *
 * The ways of failing compete: what tore at 80 N had not peeled at 80 N, so against peeling it held at least that. The mean of
 * those alone that peeled would read low. Latent strengths are taken as independent and normal: Crowder, Classical Competing
 * Risks, 2001, chapter 3.
 */
export function byMode(specimens: readonly Specimen[]): ModeOfGroup[] {
  const kept = specimens.filter(s => s.dropped === null)
  if (!kept.some(s => s.mode !== null)) return []
  const groups = [...new Set(kept.map(s => s.group))]
  return groups.flatMap(group => {
    const own = kept.filter(s => s.group === group)
    const modes = [...new Set(own.map(s => s.mode))]
    return modes
      .map(mode => ({
        group,
        mode,
        n: own.filter(s => s.mode === mode).length,
        ...meanAgainst(own, mode, modes.length === 1),
      }))
      .sort((x, y) => y.n - x.n)
  })
}

function meanAgainst(
  own: readonly Specimen[],
  mode: string | null,
  isOnly: boolean,
): Pick<ModeOfGroup, 'mean' | 'ci95'> {
  const none = { mean: null, ci95: null }
  if (mode === null && !isOnly) return none
  const used = againstMode(own, mode)
  const values = [...measuredOf(used), ...atLeastOf(used)]
  const found = censoredMean(
    valuesOf(values),
    values.map(s => s.status === 'at-least'),
  )
  if (found === null) {
    const plain = valuesOf(values)
    return values.length > 0 && values.every(s => s.status === 'measured')
      ? { mean: meanOf(plain), ci95: null }
      : none
  }
  const half = tQuantile(0.975, found.df) * found.standardError
  return { mean: found.mean, ci95: [found.mean - half, found.mean + half] }
}

/** The specimens as they count against one way of failing: what failed in another, or nobody knows how, held at least so much. */
export const againstMode = (specimens: readonly Specimen[], mode: string | null): Specimen[] =>
  specimens.map(s =>
    s.status === 'measured' && s.mode !== mode ? { ...s, status: 'at-least', failedOtherwise: true } : s,
  )

/** Quantities that grow until a specimen fails, so that failing otherwise leaves a bound; a table's own column is taken for one. */
export const boundsOtherModes = (quantity: string): boolean =>
  !(['laterPeak', 'partialBreaks', 'stiffness'] as readonly string[]).includes(quantity)

/** The ways of failing that specimens are said to have failed in, most frequent first. */
export function knownModes(specimens: readonly Pick<Specimen, 'mode' | 'dropped'>[]): string[] {
  const times = new Map<string, number>()
  for (const { mode, dropped } of specimens)
    if (mode !== null && dropped === null) times.set(mode, (times.get(mode) ?? 0) + 1)
  return [...times].sort((a, b) => b[1] - a[1]).map(([mode]) => mode)
}

/** Groups in which more than one known mode occurs. */
export const mixedGroups = (modes: readonly Pick<ModeOfGroup, 'group' | 'mode'>[]): string[] =>
  [...new Set(modes.map(m => m.group))].filter(
    group => modes.filter(m => m.group === group && m.mode !== null).length > 1,
  )
