import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Reference } from '../../../core/calibration/referencesDocument.ts'
import { useBench } from '../../app/context.tsx'
import { useFoot } from '../../app/undo.tsx'
import { KEYS, useChange } from '../../data/queries.ts'
import { texts } from '../../texts/index.ts'
import { houseMassesFrom, massMap, referencesDocument } from './masses.ts'

const NAME = 'references'

/** The household masses, kept once for all rigs and studies. */
export function useHouseMasses() {
  const { backend } = useBench()
  const foot = useFoot()
  const { data } = useQuery({ queryKey: KEYS.settings, queryFn: () => backend.settings.all() })
  const references = useMemo(() => houseMassesFrom(data?.[NAME]), [data])
  const masses = useMemo(() => massMap(references), [references])
  const keeping = useChange((to, next: Readonly<Record<string, Reference>>) =>
    to.settings.set(NAME, referencesDocument(next)),
  )
  return {
    masses,
    list: [...masses.values()] as readonly Mass[],
    error: keeping.error,
    add: (name: string, reference: Reference): Promise<boolean> =>
      keeping.mutateAsync({ ...references, [name]: reference }).then(
        () => true,
        () => false,
      ),
    remove(name: string) {
      const { [name]: _, ...others } = references
      keeping.mutate(others, {
        onSuccess: () => foot.did(texts.rig.didRemoveMass(name), () => keeping.mutateAsync(references)),
      })
    },
  }
}
export type HouseMassesKept = ReturnType<typeof useHouseMasses>
