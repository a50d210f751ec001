import { useRef, useState } from 'react'
import type { NewSpecimen, Specimen } from '../../server/apiTypes.ts'
import { useFoot } from '../app/undo.tsx'
import { useChange } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import type { Checklist } from './checklist.ts'

const t = texts.plan

interface Wanted {
  readonly make: readonly NewSpecimen[]
  readonly remove: readonly Specimen[]
}
interface Settled {
  readonly made: readonly Specimen[]
  readonly removed: readonly Specimen[]
}

/**
 * Makes a specimen for each place of the order that has none, and takes away those that were planned before and have no
 * place any more. One after another, so that it can be stopped; what is done by then stays, and the rest is asked for again.
 */
export function useSettleSpecimens(studyId: string, operator: string) {
  const foot = useFoot()
  const isStopped = useRef(false)
  const [done, setDone] = useState(0)
  const settling = useChange<Wanted, Settled>(async (backend, { make, remove }) => {
    const made: Specimen[] = []
    const removed: Specimen[] = []
    isStopped.current = false
    setDone(0)
    for (const specimen of remove) {
      if (isStopped.current) break
      await backend.specimens.remove(specimen.id)
      removed.push(specimen)
      setDone(made.length + removed.length)
    }
    for (const fields of make) {
      if (isStopped.current) break
      made.push(await backend.specimens.create(studyId, fields))
      setDone(made.length + removed.length)
    }
    return { made, removed }
  })
  const settle = ({ missing, surplus }: Checklist) =>
    settling.mutate(
      {
        make: missing.map(({ label, variantId }) => ({
          name: label,
          variantId,
          operator,
          status: 'planned',
        })),
        remove: surplus,
      },
      {
        onSuccess: ({ made, removed }) =>
          foot.did(t.didSettle(made.length, removed.length), () =>
            settling.mutateAsync({ make: removed.map(fieldsOf), remove: made }),
          ),
      },
    )
  return {
    settle,
    isBusy: settling.isPending,
    done,
    error: settling.error,
    stop: () => {
      isStopped.current = true
    },
  }
}

const fieldsOf = ({
  id: _id,
  studyId: _study,
  createdAt: _made,
  updatedAt: _changed,
  ...fields
}: Specimen): NewSpecimen => fields
