import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import { answerIn } from '../../core/answer/answerOf.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { PlaceProps } from '../app/placeProps.ts'
import { addressOf } from '../app/places.ts'
import { StepAction } from '../app/StepAction.tsx'
import { useMark, useUnit } from '../app/units.tsx'
import { Folded, unfold } from '../parts/Folded.tsx'
import { Guard } from '../parts/Guard.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { Problems } from '../parts/Problems.tsx'
import { RIG_OF_SPECIMENS_ID } from '../specimens/RigOfRecordings.tsx'
import { SPECIMENS_ID, SpecimensTable } from '../specimens/SpecimensTable.tsx'
import { texts } from '../texts/index.ts'
import { Borrowed } from './Borrowed.tsx'
import { Choices } from './Choices.tsx'
import { namesOf } from './comparedStudies.ts'
import { Doubts } from './Doubts.tsx'
import { GroupFigures } from './GroupFigures.tsx'
import { GroupRows } from './GroupRows.tsx'
import { HeldLoad } from './HeldLoad.tsx'
import { peakUnitOf } from './logUnit.ts'
import { Overlay } from './Overlay.tsx'
import { PairTable } from './PairTable.tsx'
import { SpecimenTable } from './SpecimenTable.tsx'
import { shownOf } from './shown.ts'
import { TrendPlot } from './TrendPlot.tsx'
import { OverTime } from './timeLine/OverTime.tsx'
import { type ComparisonChoice, useComparison, useOpens } from './useComparison.ts'
import { useLike } from './useLike.ts'
import { useRememberedLook } from './useRememberedLook.ts'
import { stepOf, usualChoice } from './useStudyNext.ts'
import { WeibullPlot } from './WeibullPlot.tsx'
import { WhatIf } from './WhatIf.tsx'
import './compare.css'

const NONE: ReadonlySet<string> = new Set()
const t = texts.compare

/** The answer, with every specimen as a dot with its doubt; the curves over one another; the rest a press away. */
export default function ComparePlace({ open }: PlaceProps) {
  const [choice, setChoice] = useState<ComparisonChoice>(usualChoice(open))
  const [without, setWithout] = useState(NONE)
  const [hovered, setHovered] = useState<string | null>(null)
  const opens = useOpens(open, choice.alsoStudies)
  const names = useMemo(() => namesOf(opens), [opens])
  const unit = useUnit(peakUnitOf(opens))
  const mark = useMark()
  const like = useLike(open, choice.likeStudies ?? [], choice.quantity)
  const whole = useComparison(opens, choice, unit, NONE, like.scatters)
  const tried = useComparison(opens, choice, unit, without, like.scatters)
  const comparison = tried.data
  // The last one, which stays in sight, may be of more studies than are chosen now.
  useRememberedLook(open.study, opens.length === 1 && !whole.isPlaceholderData ? whole.data : undefined)
  const toggle = (id: string) => setWithout(now => toggled(now, id))

  if (open.readings.length === 0)
    return (
      <NextLine>
        {t.nothing}
        <Link className="button button-main" href={addressOf.place(open.study.id, 'read')}>
          {t.nothingAction}
        </Link>
      </NextLine>
    )
  const shown = comparison && shownOf(comparison, unit)
  const plane = comparison && shown && { comparison, shown, names, hovered, without, onHover: setHovered }
  return (
    <>
      <NextLine>
        <Next open={open} comparison={whole.data} />
      </NextLine>
      <p className="pencil">{open.study.question || open.study.name}</p>
      <Problems error={tried.error} />
      {plane && (
        <>
          <h1 className="answer-headline">{mark(answerIn(plane.comparison).headline)}</h1>
          <Guard name={t.groupsHeading}>
            <GroupRows {...plane} onToggle={toggle} />
          </Guard>
          <Doubts doubts={answerIn(plane.comparison).doubts} />
        </>
      )}
      {without.size > 0 && whole.data && comparison && shown && isAlike(whole.data, comparison) && (
        <WhatIf
          before={whole.data}
          after={comparison}
          shown={shown}
          left={names.filter(({ id }) => without.has(id))}
          onBack={() => setWithout(NONE)}
        />
      )}
      {plane && (
        <>
          <Guard name={t.overlayHeading}>
            <Overlay {...plane} opens={opens} unit={unit} />
          </Guard>
          <div className="compare-more">
            <Folded name={t.pairsHeading}>
              <PairTable {...plane} />
            </Folded>
            <Folded name={t.figuresHeading}>
              <GroupFigures {...plane} />
            </Folded>
            {plane.comparison.factor && (
              <Folded name={t.trendHeading}>
                <Guard name={t.trendHeading}>
                  <TrendPlot {...plane} />
                </Guard>
              </Folded>
            )}
            <Folded name={t.borrowHeading}>
              <Borrowed
                {...plane}
                studyId={open.study.id}
                chosen={choice.likeStudies ?? []}
                like={like}
                onChoose={likeStudies => setChoice({ ...choice, likeStudies })}
              />
            </Folded>
            <Folded name={t.proofHeading}>
              <HeldLoad {...plane} />
            </Folded>
            <Folded name={t.overTimeHeading}>
              <Guard name={t.overTimeHeading}>
                <OverTime opens={opens} comparison={plane.comparison} />
              </Guard>
            </Folded>
            <Folded name={t.weibullHeading}>
              <Guard name={t.weibullHeading}>
                <WeibullPlot {...plane} />
              </Guard>
            </Folded>
            <Folded name={t.tableHeading}>
              <Guard name={t.tableHeading}>
                <SpecimenTable {...plane} />
              </Guard>
            </Folded>
            <Folded name={texts.specimens.heading} id={SPECIMENS_ID}>
              <Guard name={texts.specimens.heading}>
                <SpecimensTable open={open} />
              </Guard>
            </Folded>
            <Folded name={t.choicesHeading}>
              <Choices opens={opens} choice={choice} onChoose={setChoice} />
            </Folded>
          </div>
        </>
      )}
    </>
  )
}

/** One of them may be of what was chosen before: figures of two quantities, or in two units, are never set side by side. */
const isAlike = (a: Comparison, b: Comparison): boolean => a.quantity === b.quantity && a.unit === b.unit

function toggled(set: ReadonlySet<string>, id: string): ReadonlySet<string> {
  const next = new Set(set)
  if (!next.delete(id)) next.add(id)
  return next
}

/** The one step that comes next, with the way to where it is done. */
function Next({
  open,
  comparison,
}: Pick<PlaceProps, 'open'> & { comparison: ReturnType<typeof useComparison>['data'] }) {
  const mark = useMark()
  if (!comparison) return t.counting
  const step = stepOf(open, comparison)
  return (
    <>
      <span>{mark(step.text)}</span>
      {step.kind === 'assign' ? (
        <button type="button" className="button button-main" onClick={() => unfold(SPECIMENS_ID)}>
          {texts.specimens.assign}
        </button>
      ) : step.kind === 'name-rig' ? (
        <button
          type="button"
          className="button button-main"
          onClick={() => unfold(SPECIMENS_ID, RIG_OF_SPECIMENS_ID)}
        >
          {texts.specimens.nameRig}
        </button>
      ) : (
        <StepAction open={open} step={step} here="compare" />
      )}
    </>
  )
}
