import { createContext, useContext } from 'react'
import type { StudyChange } from '../data/useStudyChange.ts'
import type { Telling, Told } from './worker/types.ts'

/** What the parts of the place work with: what is told, and the thread that tells it. */
export interface ToldHere {
  readonly told: Told
  /** `null` for the moment before the thread is there. */
  readonly telling: Telling | null
}

export const ToldContext = createContext<ToldHere | null>(null)

export function useTold(): ToldHere {
  const here = useContext(ToldContext)
  if (!here) throw new Error('useTold was called outside ToldContext')
  return here
}

/** Changes what is written of the study: one for the whole place, so that its changes stand on one another. */
export const StudyHereContext = createContext<StudyChange | null>(null)

export function useStudyHere(): StudyChange {
  const study = useContext(StudyHereContext)
  if (!study) throw new Error('useStudyHere was called outside StudyHereContext')
  return study
}
