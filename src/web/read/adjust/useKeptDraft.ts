import { useCallback, useMemo, useRef } from 'react'
import { useKept } from '../../live/kept.ts'
import { type Written, writtenIn } from './draft.ts'

/** The correction that is being written for a specimen: it outlives a reload, until it is kept or left. */
export function useKeptDraft(specimenId: string) {
  const [json, keep] = useKept(`correction.${specimenId}`, 'session')
  const written = useMemo(() => writtenIn(json), [json])
  // Marks on the curve come faster than the page is drawn anew.
  const latest = useRef(written)
  latest.current = written
  const write = useCallback(
    (next: (was: Written | null) => Written | null) => {
      latest.current = next(latest.current)
      keep(latest.current && JSON.stringify(latest.current))
    },
    [keep],
  )
  return [written, write] as const
}
