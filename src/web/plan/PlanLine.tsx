import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { unfold } from '../parts/Folded.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { SPECIMENS_ID } from '../specimens/SpecimensTable.tsx'
import { texts } from '../texts/index.ts'
import type { Checklist } from './checklist.ts'
import { type PlanState, planNext } from './planNext.ts'
import { QUESTION_ID } from './QuestionHeading.tsx'
import type { useSettleSpecimens } from './useSettleSpecimens.ts'
import { NEW_VARIANT_ID } from './Variants.tsx'

const t = texts.plan

/** What to do now, with the one button for it. */
export function PlanLine({
  state,
  studyId,
  perGroup,
  checklist,
  settling,
  onKeep,
}: {
  state: PlanState
  studyId: string
  perGroup: number
  checklist: Checklist
  settling: ReturnType<typeof useSettleSpecimens>
  onKeep: () => void
}) {
  const focus = (id: string) => () => document.getElementById(id)?.focus()
  const button = (text: string, press: () => void) => (
    <button type="button" className="button button-main" onClick={press}>
      {text}
    </button>
  )
  if (settling.isBusy)
    return (
      <NextLine>
        {t.settling(settling.done, checklist.missing.length + checklist.surplus.length - settling.done)}
        {button(t.stop, settling.stop)}
      </NextLine>
    )
  switch (planNext(state)) {
    case 'question':
      return (
        <NextLine>
          {t.nextQuestion}
          {button(t.writeQuestion, focus(QUESTION_ID))}
        </NextLine>
      )
    case 'assign':
      return (
        <NextLine>
          {texts.specimens.loose(state.loose)}
          {button(texts.specimens.assign, () => unfold(SPECIMENS_ID))}
        </NextLine>
      )
    case 'variants':
      return (
        <NextLine>
          {t.nextVariants}
          {button(t.nameVariant, focus(NEW_VARIANT_ID))}
        </NextLine>
      )
    case 'keep':
      return (
        <NextLine>
          {t.nextKeep}
          {button(t.keep(perGroup), onKeep)}
        </NextLine>
      )
    case 'keep-again':
      return (
        <NextLine>
          {t.nextKeepAgain}
          {button(t.keep(perGroup), onKeep)}
        </NextLine>
      )
    case 'specimens':
      return (
        <NextLine>
          {t.nextSpecimens(checklist.missing.length, checklist.surplus.length)}
          {button(t.settle(checklist.missing.length, checklist.surplus.length), () =>
            settling.settle(checklist),
          )}
        </NextLine>
      )
    case 'rig':
      return (
        <NextLine>
          {t.nextRig(checklist.all - checklist.pulled)}
          <Link className="button button-main" href={addressOf.place(studyId, 'rig')}>
            {t.goToRig}
          </Link>
        </NextLine>
      )
  }
}
