import type { StudyStep } from '../../core/answer/studyNext.ts'
import { StepAction } from '../app/StepAction.tsx'
import { useMark } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { unfold } from '../parts/Folded.tsx'
import { leadTo } from '../parts/leadTo.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { RIG_OF_SPECIMENS_ID } from '../specimens/RigOfRecordings.tsx'
import { SPECIMENS_ID } from '../specimens/SpecimensTable.tsx'
import { texts } from '../texts/index.ts'
import type { Checklist } from './checklist.ts'
import { QUESTION_ID } from './QuestionHeading.tsx'
import type { useSettleSpecimens } from './useSettleSpecimens.ts'
import { NEW_VARIANT_ID, VARIANTS_ID } from './Variants.tsx'

const t = texts.plan

/** What to do now: the next step of the study, with the button for it where it is done here. */
export function PlanLine({
  open,
  step,
  perGroup,
  checklist,
  settling,
  onKeep,
  onMore,
}: {
  open: OpenStudy
  /** `null` while it is counted. */
  step: StudyStep | null
  perGroup: number
  checklist: Checklist
  settling: ReturnType<typeof useSettleSpecimens>
  onKeep: () => void
  /** Plans so many more of each than are there. */
  onMore: (perGroup: number) => void
}) {
  const mark = useMark()
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
  if (step === null) return <NextLine>{texts.compare.counting}</NextLine>
  const action = () => {
    switch (step.kind) {
      case 'question':
        return button(t.writeQuestion, () => leadTo(QUESTION_ID))
      case 'assign':
        return button(texts.specimens.assign, () => unfold(SPECIMENS_ID))
      case 'name-rig':
        return button(texts.specimens.nameRig, () => unfold(SPECIMENS_ID, RIG_OF_SPECIMENS_ID))
      case 'variants':
      case 'add-variant':
        return button(t.nameVariant, () => leadTo(NEW_VARIANT_ID, VARIANTS_ID))
      case 'plan':
        return button(t.keep(perGroup), onKeep)
      case 'write-in':
        return button(t.writeIn, () => settling.settle(checklist))
      case 'pull-more': {
        const { perGroup: more } = step
        return more === null ? null : button(t.planMore(more), () => onMore(more))
      }
      default:
        return <StepAction open={open} step={step} here="plan" />
    }
  }
  return (
    <NextLine>
      <span>{mark(step.text)}</span>
      {action()}
    </NextLine>
  )
}
