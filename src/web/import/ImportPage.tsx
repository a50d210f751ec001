import { useQuery } from '@tanstack/react-query'
import { useEffect, useId, useMemo, useRef } from 'react'
import { Link } from 'wouter'
import { useBench } from '../app/context.tsx'
import { addressOf } from '../app/places.ts'
import { isDone } from '../app/progress.ts'
import { KEYS } from '../data/queries.ts'
import { Trouble } from '../data/trouble.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { importPlan } from './importPlan.ts'
import { useLogs } from './LogsProvider.tsx'
import { NextStep } from './NextStep.tsx'
import { SpecimenCard } from './SpecimenCard.tsx'
import { useLooking } from './useLooking.ts'
import { useTakeIn } from './useTakeIn.ts'
import { WhereTo } from './WhereTo.tsx'
import './import.css'

/** Where dropped logs are looked at, corrected, and given to their specimens before any of them is kept. */
export default function ImportPage() {
  const { backend } = useBench()
  const { state, dispatch, choose, run, setRun } = useLogs()
  useLooking(state, dispatch)
  const studyId = state.study.id
  const { data: open = null, error } = useQuery({
    queryKey: KEYS.study(studyId ?? ''),
    queryFn: () => backend.studies.open(studyId ?? ''),
    enabled: studyId !== null,
  })
  const plan = useMemo(() => importPlan(state, open), [state, open])
  const takeIn = useTakeIn(plan, open)
  const nameField = useRef<HTMLInputElement>(null)
  const id = useId()
  const lists = { specimens: `${id}-specimens`, variants: `${id}-variants` }
  useRigOfStudy(open?.recordings.find(entry => entry.rigId !== null)?.rigId ?? null)
  useEffect(() => {
    document.title = `${texts.import.title} · ${texts.app.name}`
  }, [])
  const names = new Set([
    ...(open?.variants.map(({ name }) => name) ?? []),
    ...plan.groups.map(({ variant }) => variant),
  ])
  const unread = run.state === 'ended' ? run.result.unread : []
  return (
    <div className="notebook import" data-place="import">
      <header className="notebook-head">
        <Link href={addressOf.shelf}>{texts.app.shelf}</Link>
        {open && <Link href={addressOf.place(open.study.id, 'read')}>{open.study.name}</Link>}
        <Link href={addressOf.settings}>{texts.app.settings}</Link>
      </header>
      <main>
        <NextStep
          plan={plan}
          nameField={nameField}
          compares={open !== null && isDone(open, 'compare')}
          onTakeIn={() => void takeIn()}
        />
        <h1>{texts.import.title}</h1>
        <Problems error={error} />
        {run.state === 'failed' && <Problems error={run.error} />}
        {unread.length > 0 && <Problems error={new Trouble(unread)} />}
        {state.items.length === 0 ? (
          <ul className="pencil import-opens">
            {texts.import.opens.map(sentence => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        ) : (
          <WhereTo plan={plan} nameField={nameField} />
        )}
        {state.items.length > 0 && <SetAside />}
        {state.strange.map(({ name, problem }) => (
          <Problems key={`${name} ${problem.where} ${problem.what}`} error={new Trouble([problem])} />
        ))}
        {state.items.length > 0 && (
          <>
            <h2>{texts.import.specimens}</h2>
            <datalist id={lists.variants}>
              {[...names].filter(Boolean).map(name => (
                <option key={name} value={name} />
              ))}
            </datalist>
            <datalist id={lists.specimens}>
              {open?.specimens.map(({ id, name }) => (
                <option key={id} value={name} />
              ))}
            </datalist>
            {plan.groups.map(group => (
              <SpecimenCard
                key={group.logs[0]?.item.id}
                group={group}
                open={open}
                twins={plan.twins}
                lists={lists}
              />
            ))}
          </>
        )}
        {(state.items.length > 0 || state.strange.length > 0) && run.state !== 'running' && (
          <div className="row">
            <button type="button" className="button" onClick={choose}>
              {texts.import.moreFiles}
            </button>
            <button
              type="button"
              className="button button-plain"
              onClick={() => {
                dispatch({ type: 'cleared' })
                setRun({ state: 'not-begun' })
              }}
            >
              {texts.import.clear}
            </button>
          </div>
        )}
      </main>
    </div>
  )
}

/** What becomes of the files on the table when the page is left. */
function SetAside() {
  const { aside } = useLogs()
  const t = texts.import
  if (aside.state === 'failed') return <p className="warning">{t.notAside(aside.why)}</p>
  if (aside.state === 'looking') return null
  return <p className="pencil small">{aside.restored > 0 ? t.restored(aside.restored) : t.aside}</p>
}

/** A study is pulled on one rig as a rule: that of its recordings is offered until the person says another. */
function useRigOfStudy(rigId: string | null): void {
  const { dispatch } = useLogs()
  useEffect(() => {
    if (rigId !== null) dispatch({ type: 'rig', rigId })
  }, [rigId, dispatch])
}
