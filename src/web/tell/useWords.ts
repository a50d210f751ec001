import type { Study, StudyPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

type Words = Pick<StudyPatch, 'question' | 'method'>

/** Changes the question or the method of the study, with the way back. */
export function useWords(study: Study) {
  const foot = useFoot()
  const change = useChange<Words, Study>((backend, words) => backend.studies.change(study.id, words))
  return {
    error: change.error,
    keep(words: Words, done: string) {
      const before: Words = { question: study.question, method: study.method }
      change.mutate(words, { onSuccess: () => foot.did(done, () => change.mutateAsync(before)) })
    },
  }
}
