import type { Specimen, SpecimenPatch } from '../../../server/apiTypes.ts'
import { useFoot } from '../../app/undo.tsx'
import { useChange } from '../../data/queries.ts'
import { texts } from '../../texts/index.ts'

interface Wish {
  readonly patch: SpecimenPatch
  /** `undefined`: over whatever is there. */
  readonly basedOn: string | undefined
}

const words = texts.read.facts

/** Changes what is known of a specimen; each change can be taken back. */
export function useSpecimenChange(specimen: Specimen) {
  const foot = useFoot()
  const changing = useChange<Wish, Specimen>((backend, { patch, basedOn }) =>
    backend.specimens.change(specimen.id, { ...patch, ...(basedOn !== undefined && { basedOn }) }),
  )
  const change = (patch: SpecimenPatch, text: string, basedOn: string | undefined = specimen.updatedAt) => {
    const before = Object.fromEntries(
      Object.keys(patch).map(key => [key, specimen[key as keyof SpecimenPatch & keyof Specimen]]),
    ) as SpecimenPatch
    changing.mutate(
      { patch, basedOn },
      {
        onSuccess: ({ updatedAt }) =>
          foot.did(text, () => changing.mutateAsync({ patch: before, basedOn: updatedAt })),
      },
    )
  }
  return {
    change,
    isBusy: changing.isPending,
    error: changing.error,
    forget: changing.reset,
    /** After a conflict: what was wished, over what was written elsewhere. */
    writeMine: () =>
      changing.variables && change(changing.variables.patch, words.changed(words.heading), undefined),
    leaveOut: (why: string) => change({ status: 'left-out', statusReason: why }, words.didLeaveOut),
    takeIn: () => change({ status: 'pulled', statusReason: '' }, words.didTakeIn),
  }
}
