import type { Edited, SpecimenEdit } from '../../server/apiTypes.ts'
import { useSettings } from '../app/settings.tsx'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

interface Wish {
  readonly steps: readonly SpecimenEdit[]
  /** For the list of changes: `“paste 3” to “stitch”`. */
  readonly what: string
}

/** Changes specimens of a study, as one edit each time, by the person of the settings; each can be taken back. */
export function useSpecimenEdits(studyId: string) {
  const foot = useFoot()
  const { operator } = useSettings().settings
  const turning = useChange<{ id: string; way: 'back' | 'again' }, Edited>((backend, { id, way }) =>
    backend.edits.turn(studyId, id, way),
  )
  const applying = useChange<Wish, Edited>((backend, { steps, what }) =>
    backend.edits.apply(studyId, steps, { who: operator, what }),
  )
  return {
    who: operator,
    /** Settles with whether it was done; what stood in its way is told by `error`. */
    apply: (steps: readonly SpecimenEdit[], what: string): Promise<boolean> =>
      applying.mutateAsync({ steps, what }).then(
        ({ edit }) => {
          if (edit) foot.did(`${what}.`, () => turning.mutateAsync({ id: edit.id, way: 'back' }))
          return true
        },
        () => false,
      ),
    turn: turning.mutate,
    isBusy: applying.isPending || turning.isPending,
    error: applying.error ?? turning.error,
    /** The figures that the last change made others. */
    reread:
      turning.data && turning.submittedAt > applying.submittedAt
        ? turning.data.reread
        : (applying.data?.reread ?? []),
    problems: applying.data?.problems ?? [],
  }
}

export type SpecimenEdits = ReturnType<typeof useSpecimenEdits>
