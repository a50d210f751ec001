import { Link } from 'wouter'
import type { PlaceProps } from '../app/placeProps.ts'
import { addressOf } from '../app/places.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import { firstToRead } from './order.ts'
import { ReadSpecimen } from './ReadSpecimen.tsx'
import './Read.css'

/** The place where a curve is read and, where it was read wrong, put right. */
export default function ReadPlace({ open, specimenId }: PlaceProps) {
  const known = open.specimens.some(({ id }) => id === specimenId) ? specimenId : firstToRead(open)
  if (known === null)
    return (
      <NextLine>
        {texts.read.next.noSpecimens}
        <Link className="button button-main" href={addressOf.place(open.study.id, 'pull')}>
          {texts.read.next.toPull}
        </Link>
      </NextLine>
    )
  return <ReadSpecimen key={known} open={open} specimenId={known} />
}
