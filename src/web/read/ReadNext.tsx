import type { ReactNode } from 'react'
import { Link } from 'wouter'
import { peakWords } from '../../core/reading/peakWords.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import type { Specimen } from '../../server/apiTypes.ts'
import { addressOf } from '../app/places.ts'
import { StudyStepLine } from '../app/StepAction.tsx'
import { useMark } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { leadTo } from '../parts/leadTo.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import type { Adjusting } from './adjust/useAdjusting.ts'
import { useSpecimenChange } from './facts/useSpecimenChange.ts'
import { FACTS_ID, MODE_ID, VARIANT_ID } from './ids.ts'
import { nextOf } from './next.ts'
import { inReadingOrder, pulledIds } from './order.ts'
import type { Shown } from './ReadCurve.tsx'

const words = texts.read.next

/** The line that says what to do now with this specimen. */
export function ReadNext({
  open,
  specimen,
  isRecorded,
  shown,
  tried,
  unit,
  error,
  adjusting,
}: {
  open: OpenStudy
  specimen: Specimen
  isRecorded: boolean
  shown: Shown | null
  tried: Shown | null
  unit: ShownUnit
  error: unknown
  adjusting: Adjusting
}) {
  const mark = useMark()
  const change = useSpecimenChange(specimen)
  const order = inReadingOrder(open)
  const recorded = pulledIds(open)
  const following =
    order.slice(order.findIndex(({ id }) => id === specimen.id) + 1).find(({ id }) => recorded.has(id)) ??
    null
  const { name } = specimen
  const typed =
    specimen.typedPeak === null
      ? null
      : (open.readings.find(one => one.specimenId === specimen.id)?.reading ?? null)
  const next = nextOf({
    specimen,
    isRecorded,
    reading: shown?.look.reading ?? typed,
    hasFailed: Boolean(error) && !shown,
    isConflict: adjusting.isConflict,
    isWriting: adjusting.draft !== null,
    isTried: tried !== null,
    hasModes: open.study.failureModes.length > 0,
    following,
  })
  const peakOf = (from: Shown | null) =>
    from ? mark(peakWords(from.look.reading.results.peakForce, unit)) : texts.read.none
  const press = (text: string, onClick: () => void) => (
    <button type="button" className="button button-main" onClick={onClick}>
      {text}
    </button>
  )
  const to = (text: string, href: string) => (
    <Link className="button button-main" href={href}>
      {text}
    </Link>
  )
  const studyId = open.study.id
  const lines: Record<typeof next, () => ReactNode> = {
    'not-recorded': () => [words.notRecorded(name), to(words.toPull, addressOf.place(studyId, 'pull'))],
    failed: () => words.failed(name),
    reading: () => words.reading(name),
    conflict: () => [words.conflict, press(texts.app.showTheirs, adjusting.showTheirs)],
    writing: () => [words.writing, press(texts.read.adjust.leave, adjusting.close)],
    trying: () => [
      peakOf(shown) === peakOf(tried)
        ? words.same(peakOf(tried))
        : words.trying(peakOf(shown), peakOf(tried)),
      press(texts.read.adjust.keep, adjusting.keepDraft),
    ],
    'left-out': () => [words.leftOut(name), press(words.takeIn, () => change.takeIn())],
    'zero-unknown': () => [words.zeroUnknown, press(words.zeroByNumbers, () => adjusting.start('zero-here'))],
    'not-assigned': () => [
      words.notAssigned(name),
      press(words.toVariant, () => leadTo(VARIANT_ID, FACTS_ID)),
    ],
    'say-mode': () => [words.sayMode(name), press(words.toMode, () => leadTo(MODE_ID, FACTS_ID))],
    'next-specimen': () =>
      following && [
        words.nextSpecimen(name, following.name),
        to(words.goOn, addressOf.specimen(studyId, following.id)),
      ],
    study: () => <StudyStepLine open={open} here="read" />,
  }
  return <NextLine>{lines[next]()}</NextLine>
}
