import { Link } from 'wouter'
import { useBench } from '../app/context.tsx'
import type { PlaceProps } from '../app/placeProps.ts'
import { addressOf } from '../app/places.ts'
import { LiveProvider } from '../live/useLive.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import { PullBench } from './PullBench.tsx'

/** Where specimens are pulled. Without the server there is no line to a rig. */
export default function PullPlace({ open }: PlaceProps) {
  const { backend } = useBench()
  if (backend.kind === 'server')
    return (
      <LiveProvider>
        <PullBench open={open} />
      </LiveProvider>
    )
  return (
    <>
      <NextLine>
        <span>{texts.pull.onPage}</span>
        <Link className="button button-main" href={addressOf.import}>
          {texts.pull.toImport}
        </Link>
      </NextLine>
      <h1>{open.study.name}</h1>
    </>
  )
}
