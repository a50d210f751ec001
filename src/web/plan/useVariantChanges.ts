import type { Variant, VariantPatch } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useChange } from '../data/queries.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan

/** What can be done to the variants of a study; each can be taken back. */
export function useVariantChanges({ study, variants, specimens }: OpenStudy) {
  const foot = useFoot()
  const adding = useChange<string, Variant>((backend, name) => backend.variants.create(study.id, { name }))
  const changing = useChange<{ id: string; patch: VariantPatch }, Variant>((backend, { id, patch }) =>
    backend.variants.change(id, patch),
  )
  const removing = useChange<string, void>((backend, id) => backend.variants.remove(id))
  const restoring = useChange<{ variant: Variant; specimenIds: readonly string[] }, void>(
    async (backend, { variant: { name, control, elements, note, place }, specimenIds }) => {
      const { id } = await backend.variants.create(study.id, { name, control, elements, note })
      await backend.variants.change(id, { place })
      for (const specimenId of specimenIds) await backend.specimens.change(specimenId, { variantId: id })
    },
  )
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
    change(variant: Variant, patch: VariantPatch, text: string) {
      const before = Object.fromEntries(
        Object.keys(patch).map(key => [key, variant[key as keyof VariantPatch]]),
      ) as VariantPatch
      changing.mutate(
        { id: variant.id, patch },
        {
          onSuccess: () => foot.did(text, () => changing.mutateAsync({ id: variant.id, patch: before })),
        },
      )
    },
    remove(variant: Variant) {
      const place = variants.indexOf(variant)
      const specimenIds = specimens.filter(s => s.variantId === variant.id).map(({ id }) => id)
      removing.mutate(variant.id, {
        onSuccess: () =>
          foot.did(t.didRemoveVariant(variant.name, specimenIds.length), () =>
            restoring.mutateAsync({ variant: { ...variant, place }, specimenIds }),
          ),
      })
    },
  }
}
