import { useBench } from '../app/context.tsx'
import type { PlaceProps } from '../app/placeProps.ts'
import { useRefresh } from '../data/queries.ts'
import { LiveProvider } from '../live/useLive.tsx'
import { PullBench } from './PullBench.tsx'

/** Where specimens are pulled. */
export default function PullPlace({ open }: PlaceProps) {
  const { line } = useBench()
  const refresh = useRefresh()
  return (
    <LiveProvider host={line} onStored={() => void refresh()}>
      <PullBench open={open} />
    </LiveProvider>
  )
}
