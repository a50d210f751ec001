import { useRef } from 'react'
import type { Specimen, SpecimenPatch } from '../../../server/apiTypes.ts'
import { useSettings } from '../../app/settings.tsx'
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
  const { operator } = useSettings().settings
  // Fields are left faster than the server answers: one change waits for the one before, and stands on it.
  const own = useRef<{ last: Promise<unknown>; updatedAt: string }>({
    last: Promise.resolve(),
    updatedAt: '',
  })
  const changing = useChange<Wish, Specimen>(async (backend, { patch, basedOn }) => {
    const before = own.current.last
    const change = async (): Promise<Specimen> => {
      const { updatedAt } = own.current
      // ISO 8601 in UTC: the later of two is the greater text.
      const newest = basedOn !== undefined && updatedAt > basedOn ? updatedAt : basedOn
      const based = { ...patch, ...(newest !== undefined && { basedOn: newest }) }
      const changed = await backend.specimens.change(specimen.id, based, operator)
      own.current.updatedAt = changed.updatedAt
      return changed
    }
    const next = before.then(change, change)
    own.current.last = next
    return next
  })
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
