import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useCallback } from 'react'
import { useBench } from '../app/context.tsx'
import type { Backend, Subject } from './backend.ts'
import { announce } from './otherTabs.ts'

/** Names under which answers are kept. A change makes those that it could touch be asked again, here and in other tabs. */
export const KEYS = {
  studies: ['studies'],
  study: (id: string) => ['study', id],
  history: (specimenId: string) => ['history', specimenId],
  notes: (subject: Subject) => ['notes', subject.kind, subject.id],
  photos: (subject: Subject) => ['photos', subject.kind, subject.id],
  edits: (studyId: string) => ['edits', studyId],
  removed: (studyId: string) => ['removed', studyId],
  recordings: ['recordings'],
  rigs: ['rigs'],
  calibrations: ['calibrations'],
  checks: ['checks'],
  settings: ['settings'],
} as const

export function useStudies() {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.studies, queryFn: () => backend.studies.list() })
}

export function useStudy(id: string) {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.study(id), queryFn: () => backend.studies.open(id) })
}

export function useHistory(specimenId: string) {
  const { backend } = useBench()
  return useQuery({
    queryKey: KEYS.history(specimenId),
    queryFn: () => backend.readings.history(specimenId),
  })
}

export function useEdits(studyId: string) {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.edits(studyId), queryFn: () => backend.edits.list(studyId) })
}

export function useRemovedSpecimens(studyId: string) {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.removed(studyId), queryFn: () => backend.edits.removed(studyId) })
}

export function useNotes(subject: Subject) {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.notes(subject), queryFn: () => backend.notes.list(subject) })
}

export function usePhotos(subject: Subject) {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.photos(subject), queryFn: () => backend.photos.list(subject) })
}

export function useRigs() {
  const { backend } = useBench()
  return useQuery({ queryKey: KEYS.rigs, queryFn: () => backend.rigs.list() })
}

/** Asks anew for everything that is on a screen, in this tab and in others. */
export function useRefresh(): () => Promise<void> {
  const client = useQueryClient()
  return useCallback(async () => {
    await client.invalidateQueries()
    announce()
  }, [client])
}

/**
 * A change of what is kept: `change(run)` gets the backend; afterwards everything that was asked before is asked again
 * where it is on a screen, in this tab and in others. Rejects with a `Trouble`.
 */
export function useChange<A, R>(change: (backend: Backend, given: A) => Promise<R>) {
  const { backend } = useBench()
  const refresh = useRefresh()
  return useMutation({
    mutationFn: (given: A) => change(backend, given),
    onSettled: refresh,
  })
}
