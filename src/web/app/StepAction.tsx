import { Link } from 'wouter'
import type { StudyStep } from '../../core/answer/studyNext.ts'
import { useStudyNext } from '../compare/useStudyNext.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import { addressOf, type Place } from './places.ts'
import { useMark } from './units.tsx'

/** The way to where the next step of a study is done; nothing where that is here. */
export function StepAction({ open, step, here }: { open: OpenStudy; step: StudyStep; here: Place }) {
  const place = texts.app.steps[step.kind]
  if (place === here) return null
  return (
    <Link className="button button-main" href={addressOf.place(open.study.id, place)}>
      {texts.app.goTo(texts.app.places[place])}
    </Link>
  )
}

/** The next step of a study with the way there, for a place that has nothing more pressing itself. */
export function StudyStepLine({ open, here }: { open: OpenStudy; here: Place }) {
  const step = useStudyNext(open)
  const mark = useMark()
  if (step === null) return <span>{texts.compare.counting}</span>
  return (
    <>
      <span>{mark(step.text)}</span>
      <StepAction open={open} step={step} here={here} />
    </>
  )
}
