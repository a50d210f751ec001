import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { PlaceProps } from '../app/placeProps.ts'
import { addressOf } from '../app/places.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { Guard } from '../parts/Guard.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { Problems } from '../parts/Problems.tsx'
import { askedOf } from '../plan/asked.ts'
import { texts } from '../texts/index.ts'
import { Choices } from './Choices.tsx'
import { namesOf } from './comparedStudies.ts'
import { GroupFigures } from './GroupFigures.tsx'
import { GroupRows } from './GroupRows.tsx'
import { peakUnitOf } from './logUnit.ts'
import { Overlay } from './Overlay.tsx'
import { SpecimenTable } from './SpecimenTable.tsx'
import { shownOf } from './shown.ts'
import { type ComparisonChoice, useComparison, useOpens } from './useComparison.ts'
import { WeibullPlot } from './WeibullPlot.tsx'
import { WhatIf } from './WhatIf.tsx'
import './compare.css'

const NONE: ReadonlySet<string> = new Set()
const t = texts.compare

/** The verdict, every specimen as a dot with its doubt, the curves over one another, the table. */
export default function ComparePlace({ open }: PlaceProps) {
  const [choice, setChoice] = useState<ComparisonChoice>({
    // What counts is laid down with the plan.
    quantity: askedOf(open.study.plan)?.quantity ?? 'peakForce',
    blocksBy: null,
    alsoStudies: [],
  })
  const [without, setWithout] = useState(NONE)
  const [hovered, setHovered] = useState<string | null>(null)
  const opens = useOpens(open, choice.alsoStudies)
  const names = useMemo(() => namesOf(opens), [opens])
  const unit = useUnit(peakUnitOf(opens))
  const mark = useMark()
  const whole = useComparison(opens, choice, unit, NONE)
  const tried = useComparison(opens, choice, unit, without)
  const comparison = tried.data
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
      <h1 className="hidden-words">{open.study.question || open.study.name}</h1>
      <Problems error={tried.error} />
      {comparison && <p className="compare-verdict">{mark(comparison.verdict)}</p>}
      {comparison?.notShown && <p>{mark(comparison.notShown)}</p>}
      {comparison?.warnings.map(({ code, text }) => (
        <p key={`${code} ${text}`} className="warning">
          {mark(text)}
        </p>
      ))}
      <Choices open={open} choice={choice} onChoose={setChoice} />
      {without.size > 0 && whole.data && comparison && shown && (
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
          <Guard name={t.groupsHeading}>
            <GroupRows {...plane} onToggle={toggle} />
          </Guard>
          <Guard name={t.overlayHeading}>
            <Overlay {...plane} opens={opens} unit={unit} />
          </Guard>
          <Guard name={t.figuresHeading}>
            <GroupFigures {...plane} />
          </Guard>
          <Guard name={t.weibullHeading}>
            <WeibullPlot {...plane} />
          </Guard>
          <Guard name={t.tableHeading}>
            <SpecimenTable {...plane} />
          </Guard>
          <details className="compare-statistics">
            <summary>{t.inStatistics}</summary>
            <p>{mark(plane.comparison.inStatistics)}</p>
          </details>
        </>
      )}
    </>
  )
}

function toggled(set: ReadonlySet<string>, id: string): ReadonlySet<string> {
  const next = new Set(set)
  if (!next.delete(id)) next.add(id)
  return next
}

/** What to do now: more of each where that is the answer, else tell it. */
function Next({
  open,
  comparison,
}: Pick<PlaceProps, 'open'> & { comparison: ReturnType<typeof useComparison>['data'] }) {
  const mark = useMark()
  if (!comparison) return t.counting
  const toPull = (
    <Link className="button button-main" href={addressOf.place(open.study.id, 'pull')}>
      {t.pull}
    </Link>
  )
  if (comparison.groups.length < 2)
    return (
      <>
        {t.oneGroup}
        {toPull}
      </>
    )
  const { needMore } = comparison
  if (needMore && needMore.perGroup > 0 && needMore.toSeePct !== null)
    return (
      <>
        {mark(t.more(needMore.perGroup, `${Math.round(needMore.toSeePct)} %`))}
        {toPull}
      </>
    )
  return (
    <>
      {t.done}
      <Link className="button button-main" href={addressOf.place(open.study.id, 'tell')}>
        {t.tell}
      </Link>
    </>
  )
}
