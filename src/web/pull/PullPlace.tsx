import { useBench } from '../app/context.tsx'
import type { PlaceProps } from '../app/placeProps.ts'
import { LiveProvider } from '../live/useLive.tsx'
import { PullBench } from './PullBench.tsx'

/** Where specimens are pulled. */
export default function PullPlace({ open }: PlaceProps) {
  const { line } = useBench()
  return (
    <LiveProvider host={line}>
      <PullBench open={open} />
    </LiveProvider>
  )
}
