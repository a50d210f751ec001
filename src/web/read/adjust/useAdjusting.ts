import { useCallback, useState } from 'react'
import { adjustmentText, withoutAdjustment } from '../../../core/reading/adjustment.ts'
import type { Adjustment } from '../../../core/reading/adjustmentDocument.ts'
import type { StoredReading } from '../../../server/apiTypes.ts'
import { useSettings } from '../../app/settings.tsx'
import { useFoot } from '../../app/undo.tsx'
import { useChange } from '../../data/queries.ts'
import { Conflict } from '../../data/trouble.ts'
import { randomName } from '../../parts/randomName.ts'
import { texts } from '../../texts/index.ts'
import {
  adjustmentOf,
  changeOf,
  type Draft,
  type DraftFault,
  type DraftKind,
  draftOf,
  emptyDraft,
} from './draft.ts'
import { putBack } from './listed.ts'
import { useKeptDraft } from './useKeptDraft.ts'

interface Wish {
  readonly list: readonly Adjustment[]
  /** `undefined`: over whatever is there. */
  readonly basedOn: string | null | undefined
  /** What is told of it once it is kept. */
  readonly text: string | ((now: StoredReading) => string)
}

/** Under this id a draft is tried; it is signed when it is kept. */
export const TRIED_ID = 'tried'
const TRIED = { id: TRIED_ID, who: 'tried', when: '2000-01-01T00:00:00Z', why: 'tried' }

/**
 * The adjustments of a specimen: what is kept, what is being written, and the ways to change them. What was wished is
 * shown at once; when it cannot be kept, what is kept comes back and the draft is still there.
 */
export function useAdjusting(specimenId: string, stored: StoredReading | null) {
  const foot = useFoot()
  const { settings, choose } = useSettings()
  const [written, write] = useKeptDraft(specimenId)
  const draft = written?.draft ?? null
  const editedId = written?.editedId ?? null
  const [who, setWho] = useState<string | null>(null)
  const [fault, setFault] = useState<DraftFault | null>(null)
  const keeping = useChange<Wish, StoredReading>((backend, { list, basedOn }) =>
    backend.readings.keep(specimenId, list, basedOn),
  )
  const storedList = (stored?.adjustments ?? []) as readonly Adjustment[]
  const kept = keeping.isPending ? keeping.variables.list : storedList
  const operator = who ?? settings.operator

  const { reset } = keeping
  const start = useCallback(
    (kind: DraftKind, given: Partial<Draft> = {}) => {
      reset()
      setFault(null)
      write(() => ({ draft: { ...emptyDraft(kind), ...given }, editedId: null }))
    },
    [reset, write],
  )
  const change = useCallback(
    (given: Partial<Draft>) => {
      setFault(null)
      write(was => was && { ...was, draft: { ...was.draft, ...given } })
    },
    [write],
  )
  const checked = draft && changeOf(draft)
  const others = editedId === null ? kept : withoutAdjustment(kept, editedId)
  const tried: readonly Adjustment[] =
    checked?.ok && !keeping.isPending ? [...others, { ...checked.change, ...TRIED } as Adjustment] : kept

  const close = () => {
    write(() => null)
    setFault(null)
  }
  /** Keeps a list; afterwards it can be taken back. */
  const keep = (wish: Wish, then: () => void = () => {}) => {
    const before = storedList
    keeping.mutate(wish, {
      onSuccess(reading) {
        then()
        foot.did(typeof wish.text === 'string' ? wish.text : wish.text(reading), () =>
          keeping.mutateAsync({ list: before, basedOn: reading.id, text: texts.read.adjust.takenBack }),
        )
      },
    })
  }
  const basedOn = stored?.id ?? null
  /** Signs a draft and keeps it; gives the fault where something is missing. */
  const keepSigned = (said: Draft, text?: Wish['text']): DraftFault | null => {
    const id = editedId ?? randomName()
    const signed = adjustmentOf(said, { id, who: operator, when: new Date().toISOString() })
    if (!signed.ok) return signed.fault
    const { adjustment } = signed
    if (adjustment.who !== settings.operator) choose({ operator: adjustment.who })
    keep(
      {
        // What is written anew was said last, and is replayed last.
        list: [...withoutAdjustment(storedList, adjustment.id), adjustment],
        basedOn,
        text: text ?? texts.read.adjust.kept(adjustmentText(adjustment)),
      },
      close,
    )
    return null
  }
  return {
    draft,
    fault,
    operator,
    setOperator: setWho,
    /** Adjustments that count. */
    kept,
    /** With the draft among them, as far as it makes sense yet. */
    tried,
    isTried: checked?.ok === true,
    isKeeping: keeping.isPending,
    error: keeping.error,
    isConflict: keeping.error instanceof Conflict,
    start,
    change,
    edit(adjustment: Adjustment) {
      keeping.reset()
      setFault(null)
      write(() => ({ draft: draftOf(adjustment), editedId: adjustment.id }))
    },
    close,
    /** Signs the draft and keeps it. */
    keepDraft() {
      if (draft) setFault(keepSigned(draft))
    },
    /** Keeps at once what one press says of a stretch; where nobody's name is known yet, the form asks for it. */
    settle(kind: DraftKind, given: Partial<Draft>, text: (now: StoredReading) => string) {
      const said = { ...emptyDraft(kind), ...given }
      if (keepSigned(said, text) !== null) start(kind, given)
    },
    strike(adjustment: Adjustment) {
      keep({
        list: withoutAdjustment(storedList, adjustment.id),
        basedOn,
        text: texts.read.adjust.struck(adjustmentText(adjustment)),
      })
    },
    putBack(adjustment: Adjustment) {
      keep({
        list: putBack(storedList, adjustment),
        basedOn,
        text: texts.read.adjust.putBack(adjustmentText(adjustment)),
      })
    },
    /** After a conflict: what was wished, over what was written elsewhere. */
    writeMine() {
      const wish = keeping.variables
      if (wish) keep({ ...wish, basedOn: undefined }, close)
    },
    showTheirs() {
      keeping.reset()
      close()
    },
  }
}

export type Adjusting = ReturnType<typeof useAdjusting>
