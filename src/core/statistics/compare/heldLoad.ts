import type { ComparedSpecimen, Comparison } from '../document.ts'
import { type ProofRecord, proofRecord } from '../group/proof.ts'
import { amount, type Scale } from './words.ts'

/** How many of a group held a given load, and what that says of all. */
export interface HeldLoad {
  readonly group: string
  readonly held: number
  readonly of: number
  /** Neither held nor let go as far as is known: not pulled so far, or nothing recorded. */
  readonly notTold: number
  /** Counted by their value though their own doubt reaches over the load. */
  readonly close: number
  /** `null` where none is told. */
  readonly record: ProofRecord | null
}

/**
 * Each group against a load in the values' own unit. What let go at it or above held it, what let go below did not, in whichever way; what was
 * only pulled so far held so much. Left out where nobody knows; dropped ones do not count.
 */
export function heldLoad(
  specimens: readonly Pick<
    ComparedSpecimen,
    'group' | 'status' | 'value' | 'low' | 'high' | 'dropped' | 'failedOtherwise'
  >[],
  load: number,
): HeldLoad[] {
  const groups = [...new Set(specimens.map(s => s.group))]
  return groups.map(group => {
    const own = specimens.filter(s => s.group === group && s.dropped === null)
    const isHeld = own.map(s => outcomeAt(s, load))
    const held = isHeld.filter(one => one === true).length
    const of = isHeld.filter(one => one !== null).length
    const close = own.filter(
      (s, i) => isHeld[i] !== null && s.low !== null && s.high !== null && s.low < load && load < s.high,
    ).length
    return {
      group,
      held,
      of,
      notTold: own.length - of,
      close,
      record: of === 0 ? null : proofRecord(held, of),
    }
  })
}

function outcomeAt(
  { status, value, failedOtherwise }: Pick<ComparedSpecimen, 'status' | 'value' | 'failedOtherwise'>,
  load: number,
): boolean | null {
  if (value === null) return null
  if (value >= load) return status === 'measured' || status === 'at-least'
  return status === 'measured' || failedOtherwise === true ? false : null
}

/** One sentence for a group, no more than its figures say. `load`: in words. */
export function heldText({ group, held, of, notTold, close, record }: HeldLoad, load: string): string {
  if (record === null) return `Of ${group} none is known to have held ${load} or not`
  const pct = (share: number): string => (share === 1 ? '100' : (100 * share).toFixed(share < 0.0995 ? 1 : 0))
  const least =
    held === 0
      ? 'that shows nothing of how many do'
      : `with 95 % confidence at least ${pct(record.atLeast)} in 100 do`
  return `${held} of ${of} ${group} held ${load}: ${least} (95 % interval of the share ${pct(record.ci95[0])} to ${pct(record.ci95[1])} %)${close > 0 ? `; ${close} of them so close to it that their own doubt decides` : ''}${notTold > 0 ? `; of ${notTold} it is not known` : ''}`
}

/** What the document says of who held the load. */
export function proofOf(
  specimens: Comparison['specimens'],
  load: number,
  scale: Scale,
): NonNullable<Comparison['proof']> {
  const groups = heldLoad(specimens, load).map(one => {
    const { record, ...counts } = one
    return {
      ...counts,
      ci95: record?.ci95 ?? null,
      atLeast: record?.atLeast ?? null,
      text: `${heldText(one, amount(load, scale))}.`,
    }
  })
  return { load, groups }
}
