import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { peakUnitOf } from '../compare/logUnit.ts'
import { useComparison } from '../compare/useComparison.ts'
import type { OpenStudy } from '../data/backend.ts'
import { useStudy } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import { hasAnswer, nextPlace } from './shelved.ts'

/** What a study says so far: the verdict of its comparison, or what is to be done next. */
export function SpineAnswer({ studyId }: { studyId: string }) {
  const { data: open, error } = useStudy(studyId)
  if (error && !open) return <p className="warning">{texts.shelf.notOpened}</p>
  if (!open) return <p className="pencil">{texts.app.opening}</p>
  return hasAnswer(open) ? <Verdict open={open} /> : <Next open={open} />
}

function Verdict({ open }: { open: OpenStudy }) {
  const unit = useUnit(peakUnitOf([open]))
  const mark = useMark()
  const { data: comparison, error } = useComparison(
    [open],
    { quantity: 'peakForce', blocksBy: null, alsoStudies: [] },
    unit,
    NOBODY,
  )
  if (error) return <Next open={open} />
  return (
    <p>
      <span className="spine-verdict">{comparison ? mark(comparison.verdict) : texts.shelf.counting}</span>{' '}
      <Link href={addressOf.place(open.study.id, 'compare')}>{texts.app.places.compare}</Link>
    </p>
  )
}

const NOBODY: ReadonlySet<string> = new Set()

function Next({ open }: { open: OpenStudy }) {
  const place = nextPlace(open)
  return (
    <p>
      <Link href={addressOf.place(open.study.id, place)}>{texts.shelf.nextIn[place]}</Link>
    </p>
  )
}
