import { useRef } from 'react'
import type { Rig } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

interface Patch {
  readonly name?: string
  readonly document?: unknown
}

interface Wish {
  readonly id: string
  readonly patch: Patch
  readonly basedOn: string
}

/**
 * Changes the rig's name or document; each change can be taken back. Changes are written one after another, each made
 * from what the one before left, so that quick ones lose nothing. What was changed elsewhere in between is told, and
 * nothing is written over it.
 */
export function useRigChange() {
  const foot = useFoot()
  const changing = useChange<Wish, Rig>((backend, { id, patch, basedOn }) =>
    backend.rigs.change(id, { ...patch, basedOn }),
  )
  const own = useRef<Rig | null>(null)
  const last = useRef<Promise<unknown>>(Promise.resolve())

  const write = async (wish: Wish): Promise<Rig> => {
    const changed = await changing.mutateAsync(wish)
    own.current = changed
    return changed
  }
  /** `patchOf` gets the rig as it is when its turn comes. Settles with whether it is kept. */
  const change = (rig: Rig, patchOf: (now: Rig) => Patch, text: string): Promise<boolean> => {
    const next = last.current.then(async () => {
      const mine = own.current
      // ISO 8601 in UTC: the later of two is the greater text.
      const now = mine?.id === rig.id && mine.updatedAt > rig.updatedAt ? mine : rig
      const { id, name, document } = now
      try {
        const { updatedAt } = await write({ id, patch: patchOf(now), basedOn: now.updatedAt })
        foot.did(text, () => write({ id, patch: { name, document }, basedOn: updatedAt }))
        return true
      } catch {
        // Told on the page by `error`.
        return false
      }
    })
    last.current = next
    return next
  }
  return { change, isBusy: changing.isPending, error: changing.error }
}
export type RigChange = ReturnType<typeof useRigChange>
