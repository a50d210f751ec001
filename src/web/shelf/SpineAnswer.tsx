import { Link } from 'wouter'
import { answerIn } from '../../core/answer/answerOf.ts'
import { isNeverBelowZero, placeWords, valueWords } from '../../core/answer/words.ts'
import { addressOf } from '../app/places.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { peakUnitOf } from '../compare/logUnit.ts'
import { shownOf } from '../compare/shown.ts'
import { useStudyNext, useUsualComparison } from '../compare/useStudyNext.ts'
import type { OpenStudy } from '../data/backend.ts'
import { useStudy } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import { hasAnswer } from './shelved.ts'

/** What a study says so far: the headline of its comparison, and what is to be done next. */
export function SpineAnswer({ studyId }: { studyId: string }) {
  const { data: open, error } = useStudy(studyId)
  if (error && !open) return <p className="warning">{texts.shelf.notOpened}</p>
  if (!open) return <p className="pencil">{texts.app.opening}</p>
  return (
    <>
      {hasAnswer(open) && <Verdict open={open} />}
      <Next open={open} />
    </>
  )
}

function Verdict({ open }: { open: OpenStudy }) {
  const unit = useUnit(peakUnitOf([open]))
  const mark = useMark()
  const { data: comparison, error } = useUsualComparison(open)
  if (error) return null
  if (!comparison) return <p className="spine-verdict">{texts.shelf.counting}</p>
  const { headline, ranking, doubts } = answerIn(comparison)
  const shown = shownOf(comparison, unit)
  const neverBelow = isNeverBelowZero(comparison.quantity, comparison.specimens)
  return (
    <>
      <p className="spine-verdict">
        {mark(headline)}{' '}
        <Link href={addressOf.place(open.study.id, 'compare')}>{texts.app.places.compare}</Link>
      </p>
      <ol className="plain-list small">
        {ranking.slice(0, MOST_RANKED).map(({ name, place, value, noValue }) => (
          <li key={name}>
            {placeWords(place)} {name} {mark(valueWords({ value, noValue }, shown, neverBelow))}
          </li>
        ))}
      </ol>
      {doubts[0] && <p className="warning small">{mark(doubts[0].text)}</p>}
    </>
  )
}

/** Variants that the back of a notebook has room for. */
const MOST_RANKED = 3

function Next({ open }: { open: OpenStudy }) {
  const step = useStudyNext(open)
  const mark = useMark()
  if (step === null) return null
  return (
    <p>
      <Link href={addressOf.place(open.study.id, texts.app.steps[step.kind])}>
        {texts.shelf.next(mark(step.text))}
      </Link>
    </p>
  )
}
