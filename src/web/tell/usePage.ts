import { useMemo, useState } from 'react'
import { pageFrom, type ToldPage } from '../../publish/study/page.ts'
import type { Study } from '../../server/apiTypes.ts'
import type { StudyChange } from '../data/useStudyChange.ts'

export interface KeptPage {
  readonly page: ToldPage
  /** Keeps the page with the study; `done` says what was done, with the way back. */
  keep(page: ToldPage, done: string): void
}

/** How the study is told. A change is seen at once, and kept as soon as the store has it. */
export function usePage(study: Study, change: StudyChange['change']): KeptPage {
  const kept = useMemo(() => pageFrom(study.tell), [study.tell])
  const [wished, setWished] = useState<ToldPage | null>(null)
  return {
    page: wished ?? kept,
    keep(next, done) {
      setWished(next)
      void change({ tell: next }, done).then(() => setWished(now => (now === next ? null : now)))
    },
  }
}
