import type { Rig } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'

interface Wish {
  readonly id: string
  readonly patch: { readonly name?: string; readonly document?: unknown }
}

/** Changes the rig's name or document; each change can be taken back. */
export function useRigChange() {
  const foot = useFoot()
  const changing = useChange<Wish, Rig>((backend, { id, patch }) => backend.rigs.change(id, patch))
  const change = (rig: Rig, patch: Wish['patch'], text: string): Promise<boolean> =>
    changing.mutateAsync({ id: rig.id, patch }).then(
      () => {
        const { name, document } = rig
        foot.did(text, () => changing.mutateAsync({ id: rig.id, patch: { name, document } }))
        return true
      },
      () => false,
    )
  return { change, isBusy: changing.isPending, error: changing.error }
}
export type RigChange = ReturnType<typeof useRigChange>
