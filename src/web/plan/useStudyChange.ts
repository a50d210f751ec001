import type { Study, StudyPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

interface Wish {
  readonly patch: StudyPatch
  readonly basedOn: string
}

/** Changes what is written of the study; each change can be taken back. */
export function useStudyChange(study: Study) {
  const foot = useFoot()
  const changing = useChange<Wish, Study>((backend, { patch, basedOn }) =>
    backend.studies.change(study.id, { ...patch, basedOn }),
  )
  const change = (patch: StudyPatch, text: string) => {
    const before = Object.fromEntries(
      Object.keys(patch).map(key => [key, study[key as keyof StudyPatch & keyof Study]]),
    ) as StudyPatch
    changing.mutate(
      { patch, basedOn: study.updatedAt },
      {
        onSuccess: ({ updatedAt }) =>
          foot.did(text, () => changing.mutateAsync({ patch: before, basedOn: updatedAt })),
      },
    )
  }
  return { change, isBusy: changing.isPending, error: changing.error }
}
export type StudyChange = ReturnType<typeof useStudyChange>
