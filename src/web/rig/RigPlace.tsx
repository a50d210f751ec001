import type { Study } from '../../server/apiTypes.ts'
import { useBench } from '../app/context.tsx'
import type { PlaceProps } from '../app/placeProps.ts'
import { LiveProvider } from '../live/useLive.tsx'
import { useLineNow } from './line/useLineNow.ts'
import { RigBench } from './RigBench.tsx'
import { useBenchRig } from './useBenchRig.ts'

/** The rig that stands on the bench. */
export default function RigPlace({ open }: PlaceProps) {
  const { line } = useBench()
  return (
    <LiveProvider host={line}>
      <RigWithLine study={open.study} />
    </LiveProvider>
  )
}

function RigWithLine({ study }: { study: Study }) {
  const { kept } = useBenchRig(study)
  const line = useLineNow(kept?.id ?? null)
  return <RigBench study={study} line={line} />
}
