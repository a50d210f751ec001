import { useRef } from 'react'
import type { Variant, VariantPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useChange } from '../data/queries.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan

interface Wish {
  readonly id: string
  readonly patch: VariantPatch
  /** The fields that are replaced, as they were seen. */
  readonly basedOn: VariantPatch
}

/** What can be done to the variants of a study; each can be taken back. */
export function useVariantChanges({ study, variants }: OpenStudy) {
  const foot = useFoot()
  const adding = useChange<string, Variant>((backend, name) => backend.variants.create(study.id, { name }))
  const changing = useChange<Wish, Variant>((backend, { id, patch, basedOn }) =>
    backend.variants.change(id, { ...patch, basedOn }),
  )
  // Changes follow faster than the store answers: one waits for the one before, and stands on it.
  const own = useRef({ seen: variants, changed: new Map<string, Variant>() })
  const last = useRef<Promise<unknown>>(Promise.resolve())
  const removing = useChange<string, void>((backend, id) => backend.variants.remove(id))
  return {
    error: adding.error ?? changing.error ?? removing.error,
    isBusy: adding.isPending || removing.isPending,
    /** Settles once it is there; `false` where it could not be. */
    add: (name: string): Promise<boolean> =>
      adding.mutateAsync(name).then(
        ({ id }) => {
          foot.did(t.didAddVariant(name), () => removing.mutateAsync(id))
          return true
        },
        () => false,
      ),
    /** What was changed elsewhere in between is told by `error`, and nothing is written over it. */
    change(variant: Variant, patch: VariantPatch, text: string) {
      const { id } = variant
      const write = async (wish: Wish) => {
        const changed = await changing.mutateAsync(wish)
        if (own.current.seen !== variants) own.current = { seen: variants, changed: new Map() }
        own.current.changed.set(id, changed)
      }
      last.current = last.current.then(async () => {
        const mine = own.current.seen === variants ? own.current.changed.get(id) : undefined
        const now = mine ?? variant
        const before = Object.fromEntries(
          Object.keys(patch).map(key => [key, now[key as keyof VariantPatch]]),
        ) as VariantPatch
        try {
          await write({ id, patch, basedOn: withoutPlace(before) })
          foot.did(text, () => write({ id, patch: before, basedOn: withoutPlace(patch) }))
        } catch {
          // Told by `error`.
        }
      })
    },
  }
}

/** Where a variant stands follows from the others too: to move it overwrites nothing that anybody wrote. */
const withoutPlace = ({ place: _place, ...fields }: VariantPatch): VariantPatch => fields
