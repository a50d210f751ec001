import { useMemo } from 'react'
import { pageFrom, type ToldPage } from '../../publish/study/page.ts'
import type { Study } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

export interface KeptPage {
  readonly page: ToldPage
  /** Keeps the page with the study; `done` says what was done, with the way back. */
  keep(page: ToldPage, done: string): void
  readonly error: unknown
}

/** How the study is told. A change is seen at once, and kept as soon as the store has it. */
export function usePage(study: Study): KeptPage {
  const foot = useFoot()
  const kept = useMemo(() => pageFrom(study.tell), [study.tell])
  const change = useChange<ToldPage, Study>((backend, page) =>
    backend.studies.change(study.id, { tell: page }),
  )
  const page = change.isPending ? change.variables : kept
  return {
    page,
    keep(next, done) {
      change.mutate(next, { onSuccess: () => foot.did(done, () => change.mutateAsync(page)) })
    },
    error: change.error,
  }
}
