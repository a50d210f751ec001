import { useEffect, useRef } from 'react'
import type { Study, StudyPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from './queries.ts'

interface Wish {
  readonly patch: StudyPatch
  readonly basedOn: string
}

/**
 * Changes what is written of the study; each change can be taken back. Changes are written one after another, each on
 * top of the one before, so that quick ones do not get in one another's way. What was changed elsewhere in between is
 * told, and nothing is written over it.
 */
export function useStudyChange(study: Study) {
  const foot = useFoot()
  const changing = useChange<Wish, Study>((backend, { patch, basedOn }) =>
    backend.studies.change(study.id, { ...patch, basedOn }),
  )
  const latest = useRef(study)
  const last = useRef<Promise<boolean>>(Promise.resolve(true))
  useEffect(() => {
    if (study.updatedAt > latest.current.updatedAt) latest.current = study
  }, [study])

  const write = async (patch: StudyPatch, basedOn = latest.current.updatedAt): Promise<Wish> => {
    const now = latest.current
    const before = Object.fromEntries(
      Object.keys(patch).map(key => [key, now[key as keyof StudyPatch & keyof Study]]),
    ) as StudyPatch
    const changed = await changing.mutateAsync({ patch, basedOn })
    latest.current = changed
    return { patch: before, basedOn: changed.updatedAt }
  }
  /** Settles with whether it is kept. */
  const change = (patch: StudyPatch, text: string): Promise<boolean> => {
    last.current = last.current.then(() =>
      write(patch).then(
        back => {
          // What is taken back is this change, and none that was made on top of it elsewhere.
          foot.did(text, () => write(back.patch, back.basedOn))
          return true
        },
        // Told beside the heading by `error`; what was wished is gone, as Undo would have it.
        () => false,
      ),
    )
    return last.current
  }
  return {
    change,
    error: changing.error,
    /** What went wrong with a change of this field. */
    errorOf: (field: keyof StudyPatch) =>
      changing.variables && field in changing.variables.patch ? changing.error : null,
  }
}
export type StudyChange = ReturnType<typeof useStudyChange>
