import type { RefObject } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { leadTo } from '../parts/leadTo.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import { countLogs, type ImportPlan } from './importPlan.ts'
import { useLogs } from './LogsProvider.tsx'
import type { TakenIn } from './takeIn.ts'

/** What to do now with what lies on the table. */
export function NextStep({
  plan,
  nameField,
  compares,
  onTakeIn,
}: {
  plan: ImportPlan
  nameField: RefObject<HTMLInputElement | null>
  /** Whether the study has enough of two variants. */
  compares: boolean
  onTakeIn: () => void
}) {
  const { state, run, stopped, choose } = useLogs()
  const t = texts.import
  const action = (words: string, act: () => void) => (
    <button type="button" className="button button-main" onClick={act}>
      {words}
    </button>
  )
  if (run.state === 'running')
    return (
      <NextLine>
        <span>{t.nextKeeping(run.done, run.all, run.name)}</span>
        <progress value={run.done} max={run.all} aria-label={t.title} />
        {action(t.stop, () => {
          stopped.current = true
        })}
      </NextLine>
    )
  const logs = countLogs(plan.goingIn)
  if (run.state === 'ended' && (logs === 0 || run.result.failed > 0 || run.result.left > 0))
    return <Ended result={run.result} compares={compares} onGoOn={logs > 0 ? onTakeIn : null} />
  if (state.incoming.length > 0) return <NextLine>{t.nextSorting}</NextLine>
  if (state.items.length === 0)
    return (
      <NextLine>
        <span>{t.nextNothing}</span>
        {action(t.chooseFiles, choose)}
      </NextLine>
    )
  const looked = state.items.filter(item => !item.stale).length
  if (looked < state.items.length)
    return (
      <NextLine>
        <span>{t.nextLooking(looked, state.items.length)}</span>
        <progress value={looked} max={state.items.length} aria-label={t.title} />
      </NextLine>
    )
  const [troubled] = plan.troubled
  if (troubled)
    return (
      <NextLine>
        <span>{t.nextTrouble(plan.troubled.length)}</span>
        {action(t.nextTroubleAction, () => leadTo(`log-${troubled.id}`))}
      </NextLine>
    )
  if (logs === 0)
    return (
      <NextLine>
        <span>{t.nextNone}</span>
        {action(t.moreFiles, choose)}
      </NextLine>
    )
  if (state.study.id === null && state.study.name.trim() === '')
    return (
      <NextLine>
        <span>{t.nextStudy}</span>
        {action(t.nextStudyAction, () => nameField.current?.focus())}
      </NextLine>
    )
  return (
    <NextLine>
      <span>{t.nextKeep(logs, plan.goingIn.length)}</span>
      {action(t.nextKeepAction(logs), onTakeIn)}
    </NextLine>
  )
}

function Ended({
  result,
  compares,
  onGoOn,
}: {
  result: TakenIn
  compares: boolean
  onGoOn: (() => void) | null
}) {
  const t = texts.import
  const { kept, failed, left, study, specimenIds } = result
  if (onGoOn && (failed > 0 || left > 0))
    return (
      <NextLine>
        <span>{failed > 0 ? t.nextSomeFailed(failed, kept) : t.nextStopped(kept, left)}</span>
        <button type="button" className="button button-main" onClick={onGoOn}>
          {t.goOn}
        </button>
      </NextLine>
    )
  const [first] = specimenIds
  return (
    <NextLine>
      <span>{compares ? t.nextCompare(kept) : t.nextKept(kept)}</span>
      <Link
        className="button button-main"
        href={
          compares
            ? addressOf.place(study.id, 'compare')
            : first === undefined
              ? addressOf.place(study.id, 'read')
              : addressOf.specimen(study.id, first)
        }
      >
        {compares ? t.toCompare : t.toRead}
      </Link>
    </NextLine>
  )
}
