import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { StudyStep } from '../../core/answer/studyNext.ts'
import type { PlaceProps } from '../app/placeProps.ts'
import { addressOf } from '../app/places.ts'
import { StepAction } from '../app/StepAction.tsx'
import { useMark } from '../app/units.tsx'
import { useStudyNext } from '../compare/useStudyNext.ts'
import { useStudyChange } from '../data/useStudyChange.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Guard } from '../parts/Guard.tsx'
import { leadTo } from '../parts/leadTo.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { BLOCKS_ID, METHOD_ID } from './ids.ts'
import { PageBlocks } from './PageBlocks.tsx'
import { Preview } from './Preview.tsx'
import { SavePage } from './take/SavePage.tsx'
import { TakeAway } from './take/TakeAway.tsx'
import { TasksProvider } from './task.tsx'
import { StudyHereContext, ToldContext } from './told.tsx'
import { usePage } from './usePage.ts'
import { useTelling } from './useTelling.ts'
import './tell.css'

const t = texts.tell
/** Steps of a study after which there is nothing left but to tell it. */
const READY: readonly StudyStep['kind'][] = ['tell', 'enough']

/** The page as it will be read, put together part by part; below it, what to take away. */
export default function TellPlace({ open }: PlaceProps) {
  const thread = useTelling()
  const { telling } = thread
  const study = useStudyChange(open.study)
  const kept = usePage(open.study, study.change)
  const [opened, setOpened] = useState<string | null>(null)
  const [initials, setInitials] = useState(false)
  const step = useStudyNext(open)
  const mark = useMark()
  const { page } = kept
  const writeMethod = () => {
    setOpened('method')
    leadTo(METHOD_ID, BLOCKS_ID)
  }
  const told = useMemo(
    () => ({ told: { open: { ...open, study: { ...open.study, tell: page } }, initials }, telling }),
    [open, page, initials, telling],
  )
  if (open.readings.length === 0)
    return (
      <NextLine>
        {t.nextNothing}
        <Link className="button button-main" href={addressOf.place(open.study.id, 'pull')}>
          {t.nextNothingAction}
        </Link>
      </NextLine>
    )
  return (
    <ToldContext value={told}>
      <StudyHereContext value={study}>
        <TasksProvider thread={thread}>
          <NextLine>
            {open.study.method === '' ? (
              <>
                {t.nextMethod}
                <button type="button" className="button button-main" onClick={writeMethod}>
                  {t.nextMethodAction}
                </button>
              </>
            ) : step !== null && !READY.includes(step.kind) ? (
              <>
                <span>{mark(step.text)}</span>
                <StepAction open={open} step={step} here="tell" />
              </>
            ) : (
              <>
                {t.nextReady}
                <SavePage name="next" look="system" isMain>
                  {t.nextReadyAction}
                </SavePage>
              </>
            )}
          </NextLine>
          <h1 className="hidden-words">{open.study.question || open.study.name}</h1>
          <Problems error={study.errorOf('question')} />
          <div className="field tell-question">
            <label htmlFor="tell-question">{t.question}</label>
            <DraftInput
              id="tell-question"
              className="input tell-question-input"
              value={open.study.question}
              maxLength={10_000}
              placeholder={t.questionHint}
              onCommit={question => study.change({ question }, t.didQuestion)}
            />
          </div>
          <div className="tell-desk">
            <Guard name={t.blocks}>
              <PageBlocks open={open} kept={kept} opened={opened} onOpen={setOpened} />
            </Guard>
            <Guard name={t.preview}>
              <Preview at={opened} />
            </Guard>
          </div>
          <Guard name={t.take}>
            <TakeAway initials={initials} onInitials={setInitials} />
          </Guard>
        </TasksProvider>
      </StudyHereContext>
    </ToldContext>
  )
}
