import { type RefObject, useId } from 'react'
import { useRigs, useStudies } from '../data/queries.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Needed } from '../parts/Needed.tsx'
import { texts } from '../texts/index.ts'
import { rowOf } from './assign.ts'
import type { ImportPlan } from './importPlan.ts'
import { useLogs } from './LogsProvider.tsx'

/** The study and rig that the logs belong to, and what says which specimen each is of. */
export function WhereTo({
  plan,
  nameField,
}: {
  plan: ImportPlan
  nameField: RefObject<HTMLInputElement | null>
}) {
  const { state, dispatch } = useLogs()
  const { data: studies } = useStudies()
  const { data: rigs } = useRigs()
  const id = useId()
  const { study, pattern, items, rigId } = state
  const brought = items.find(({ rig }) => rig !== null)?.rig?.name ?? null
  const fitting = items.filter(({ file }) => plan.by.pattern?.(file.name)).length
  return (
    <section className="import-where" aria-labelledby={`${id}-h`}>
      <h2 id={`${id}-h`}>{texts.import.into}</h2>
      <div className="import-where-fields">
        <div className="field">
          <label htmlFor={`${id}-study`}>{texts.import.study}</label>
          <select
            id={`${id}-study`}
            className="input"
            value={study.id ?? ''}
            onChange={event =>
              dispatch({ type: 'study', study: { ...study, id: event.target.value || null } })
            }
          >
            <option value="">{texts.import.newStudy}</option>
            {studies
              ?.filter(({ archived, id }) => !archived || id === study.id)
              .map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
          </select>
        </div>
        {study.id === null && (
          <>
            <div className="field">
              <label htmlFor={`${id}-name`}>{texts.import.studyName}</label>
              <Needed />
              <input
                id={`${id}-name`}
                ref={nameField}
                aria-required="true"
                className="input"
                maxLength={200}
                value={study.name}
                onChange={event => dispatch({ type: 'study', study: { ...study, name: event.target.value } })}
              />
            </div>
            <div className="field">
              <label htmlFor={`${id}-question`}>{texts.import.question}</label>
              <input
                id={`${id}-question`}
                className="input"
                placeholder={texts.import.questionHint}
                value={study.question}
                onChange={event =>
                  dispatch({ type: 'study', study: { ...study, question: event.target.value } })
                }
              />
            </div>
          </>
        )}
        {rigs && (rigs.length > 0 || brought !== null) && (
          <div className="field">
            <label htmlFor={`${id}-rig`}>{texts.import.rig}</label>
            <select
              id={`${id}-rig`}
              className="input"
              value={rigId ?? ''}
              onChange={event => dispatch({ type: 'rig', rigId: event.target.value || null })}
            >
              <option value="">
                {brought === null ? texts.import.noRig : texts.import.rigBrought(brought)}
              </option>
              {rigs.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </div>
        )}
        <div className="field">
          <label htmlFor={`${id}-pattern`}>
            {texts.import.pattern}{' '}
            <span className={plan.patternIsBad ? 'warning' : 'import-aside'}>
              {plan.patternIsBad ? texts.import.nextPattern : texts.import.fits(fitting, items.length)}
            </span>
          </label>
          <DraftInput
            id={`${id}-pattern`}
            aria-describedby={`${id}-hint`}
            aria-invalid={plan.patternIsBad}
            spellCheck={false}
            value={pattern}
            onCommit={text => dispatch({ type: 'pattern', pattern: text })}
          />
          <span id={`${id}-hint`} className="pencil small">
            {texts.import.patternHint}
          </span>
        </div>
      </div>
      {state.tables.map(({ name, rows, problems, remarks }) => (
        <div key={name} className={problems.length > 0 ? 'trouble' : ''}>
          {problems.length === 0 ? (
            <p>
              {texts.import.tableUsed(
                name,
                items.filter(({ file }) => rowOf(rows, file.name)).length,
                rows.length,
              )}
            </p>
          ) : (
            <p>{texts.import.tableBad(name)}</p>
          )}
          {problems.map(({ where, what, cure }) => (
            <p key={`${where} ${what}`}>
              <strong>{where}:</strong> {what} {cure}
            </p>
          ))}
          {remarks.map(remark => (
            <p key={remark} className="pencil small">
              {remark}
            </p>
          ))}
        </div>
      ))}
    </section>
  )
}
