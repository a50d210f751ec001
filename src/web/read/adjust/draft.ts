import type { Adjustment } from '../../../core/reading/adjustmentDocument.ts'
import { typedNumber } from '../../parts/typed.ts'

export type DraftKind = Adjustment['kind']

/** Kinds that say something of a stretch, which is marked on the curve or typed. */
export const OF_A_STRETCH: readonly DraftKind[] = ['zero-here', 'hold', 'cut', 'shift']

/** An adjustment as it is written in the form: text, as it was typed. */
export interface Draft {
  readonly kind: DraftKind
  readonly fromS: string
  readonly toS: string
  readonly atS: string
  readonly as: 'partial-break' | 'break' | 'slip' | 'none'
  readonly byS: string
  readonly byMm: string
  /** `''`: not known. */
  readonly count: string
  readonly factor: string
  readonly why: string
}

export const emptyDraft = (kind: DraftKind): Draft => ({
  kind,
  fromS: '',
  toS: '',
  atS: '',
  as: 'none',
  byS: '',
  byMm: '',
  count: '',
  factor: '1',
  why: '',
})

const KINDS: Readonly<Record<DraftKind, true>> = {
  ...{ 'zero-here': true, hold: true, cut: true, shift: true },
  ...{ 'drop-pull': true, relabel: true, elements: true, sensitivity: true },
}

/** A draft, and the adjustment that it writes anew. */
export interface Written {
  readonly draft: Draft
  readonly editedId: string | null
}

/** What was written before the page was left; `null` for nothing that this version understands. */
export function writtenIn(json: string | null): Written | null {
  try {
    const { draft, editedId } = JSON.parse(json ?? 'null') as Written
    const empty = emptyDraft(draft.kind)
    const isWhole = Object.keys(empty).every(key => typeof draft[key as keyof Draft] === 'string')
    return isWhole && Object.hasOwn(KINDS, draft.kind) ? { draft, editedId: editedId ?? null } : null
  } catch {
    return null
  }
}

/** Which field is not right yet, and why. */
export interface DraftFault {
  readonly field: keyof Draft | 'who'
  readonly what: 'missing' | 'not-a-number' | 'not-later' | 'out-of-range'
}

/** What the adjustment itself says: all but who, when and why. */
type Said<A> = A extends Adjustment ? Omit<A, 'id' | 'who' | 'when' | 'why'> : never
export type Change = Said<Adjustment>

type Checked =
  | { readonly ok: true; readonly change: Change }
  | { readonly ok: false; readonly fault: DraftFault }

/** A time as exact as it can be marked by hand, as it is typed. */
export const seconds = (s: number): string => String(Number(s.toFixed(3)))

/** What a draft comes to, or the first field that is not right. The limits are those of the adjustments document. */
export function changeOf(draft: Draft): Checked {
  switch (draft.kind) {
    case 'zero-here':
    case 'hold':
    case 'cut':
      return withSpan(draft, (fromS, toS) =>
        good({ kind: draft.kind as 'zero-here' | 'hold' | 'cut', fromS, toS }),
      )
    case 'shift':
      return withSpan(draft, (fromS, toS) => {
        const [byS, byMm] = [typedNumber(draft.byS), typedNumber(draft.byMm)]
        if (draft.byS.trim() !== '' && byS === null) return bad('byS', 'not-a-number')
        if (draft.byMm.trim() !== '' && byMm === null) return bad('byMm', 'not-a-number')
        if (byS === null && byMm === null) return bad('byMm', 'missing')
        return good({ kind: 'shift', fromS, toS, byS, byMm })
      })
    case 'drop-pull':
      return withMoment(draft, atS => good({ kind: 'drop-pull', atS }))
    case 'relabel':
      return withMoment(draft, atS => good({ kind: 'relabel', atS, as: draft.as }))
    case 'elements': {
      if (draft.count.trim() === '') return good({ kind: 'elements', count: null })
      const count = typedNumber(draft.count)
      if (count === null) return bad('count', 'not-a-number')
      const fits = Number.isInteger(count) && count >= 1 && count <= 100_000
      return fits ? good({ kind: 'elements', count }) : bad('count', 'out-of-range')
    }
    case 'sensitivity': {
      const factor = typedNumber(draft.factor)
      if (factor === null) return bad('factor', draft.factor.trim() === '' ? 'missing' : 'not-a-number')
      return factor >= 0.1 && factor <= 10
        ? good({ kind: 'sensitivity', factor })
        : bad('factor', 'out-of-range')
    }
  }
}

/** The adjustment that a draft comes to, signed. */
export function adjustmentOf(
  draft: Draft,
  { id, who, when }: Pick<Adjustment, 'id' | 'who' | 'when'>,
):
  | { readonly ok: true; readonly adjustment: Adjustment }
  | { readonly ok: false; readonly fault: DraftFault } {
  const checked = changeOf(draft)
  if (!checked.ok) return checked
  const why = draft.why.trim()
  if (why === '') return bad('why', 'missing')
  if (who.trim() === '') return bad('who', 'missing')
  return { ok: true, adjustment: { ...checked.change, id, who: who.trim(), when, why } as Adjustment }
}

/** The form of an adjustment that is already there, to be changed. */
export function draftOf(adjustment: Adjustment): Draft {
  const given = Object.entries(adjustment).flatMap(([key, value]) =>
    typeof value === 'number' || typeof value === 'string' ? [[key, String(value)]] : [],
  )
  return { ...emptyDraft(adjustment.kind), ...Object.fromEntries(given) } as Draft
}

const good = (change: Change): Checked => ({ ok: true, change })
const bad = (field: DraftFault['field'], what: DraftFault['what']) =>
  ({ ok: false, fault: { field, what } }) as const

function withSpan(draft: Draft, then: (fromS: number, toS: number) => Checked): Checked {
  const [fromS, toS] = [typedNumber(draft.fromS), typedNumber(draft.toS)]
  if (fromS === null) return bad('fromS', draft.fromS.trim() === '' ? 'missing' : 'not-a-number')
  if (toS === null) return bad('toS', draft.toS.trim() === '' ? 'missing' : 'not-a-number')
  return toS > fromS ? then(fromS, toS) : bad('toS', 'not-later')
}

function withMoment(draft: Draft, then: (atS: number) => Checked): Checked {
  const atS = typedNumber(draft.atS)
  return atS === null ? bad('atS', draft.atS.trim() === '' ? 'missing' : 'not-a-number') : then(atS)
}
