import { type ReactNode, useEffect, useId, useRef } from 'react'
import type { Reading } from '../../../core/reading/document.ts'
import type { ShownUnit } from '../../../core/units/force.ts'
import { useMark } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import { beforeAfter } from './beforeAfter.ts'
import { type Draft, OF_A_STRETCH } from './draft.ts'
import { Field, type FieldProps } from './Field.tsx'
import type { Adjusting } from './useAdjusting.ts'

const words = texts.read.adjust

/** The form of one adjustment: what, who and why, and what it would change, before it is kept. */
export function AdjustmentForm({
  adjusting,
  draft,
  onMove,
  before,
  after,
  unit,
}: {
  adjusting: Adjusting
  draft: Draft
  onMove: (() => void) | null
  before: Reading | null
  /** The reading with the draft; `null` while it makes no sense or is on its way. */
  after: Reading | null
  unit: ShownUnit
}) {
  const mark = useMark()
  const reasonsId = useId()
  const form = useRef<HTMLFormElement>(null)
  const { kind } = draft
  // Whoever opened it goes on here, by keyboard too.
  useEffect(() => {
    if (kind) form.current?.querySelector<HTMLElement>('input, select')?.focus()
  }, [kind])
  const { fault } = adjusting
  useEffect(() => {
    if (fault) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
  }, [fault])
  const faultOf = (field: keyof Draft | 'who'): string | null => {
    if (fault?.field !== field) return null
    if (fault.what !== 'out-of-range') return words.faults[fault.what]
    return words.faults['out-of-range'][field === 'count' ? 'count' : 'factor']
  }
  const field = (name: keyof Draft & FieldName, label: string, more: Partial<FieldProps> = {}) => (
    <Field
      label={label}
      value={draft[name]}
      fault={faultOf(name)}
      onValue={value => adjusting.change({ [name]: value })}
      {...more}
    />
  )
  const changes = before && after ? beforeAfter(before, after, unit) : []
  return (
    <form
      ref={form}
      className="read-form"
      aria-label={words.kinds[kind]}
      onSubmit={event => {
        event.preventDefault()
        adjusting.keepDraft()
      }}
      onKeyDown={event => {
        if (event.key === 'Escape') adjusting.close()
      }}
    >
      <h2>{words.kinds[kind]}</h2>
      <p className="pencil small">{words.help[kind]}</p>
      <div className="read-form-fields">
        {OF_A_STRETCH.includes(kind) && (
          <>
            {field('fromS', words.from, NEEDED_NUMBER)}
            {field('toS', words.to, NEEDED_NUMBER)}
          </>
        )}
        {(kind === 'drop-pull' || kind === 'relabel') && field('atS', words.at, NEEDED_NUMBER)}
        {kind === 'relabel' && (
          <Field
            label={words.as}
            value={draft.as}
            fault={null}
            onValue={as => adjusting.change({ as: as as Draft['as'] })}
            options={Object.entries(words.labels).map(([value, text]) => ({ value, text }))}
          />
        )}
        {kind === 'shift' && (
          <>
            {field('byMm', words.byMm, NUMBER)}
            {field('byS', words.byS, NUMBER)}
            {onMove && (
              <button type="button" className="button read-move" onClick={onMove}>
                {words.moveByHand}
              </button>
            )}
          </>
        )}
        {kind === 'elements' && field('count', words.count, { inputMode: 'numeric' })}
        {kind === 'sensitivity' && field('factor', words.factor, NEEDED_NUMBER)}
      </div>
      <fieldset className="read-reasons">
        <legend className="pencil small" id={reasonsId}>
          {words.usualReasons}
        </legend>
        {words.reasons[kind].map(reason => (
          <button
            key={reason}
            type="button"
            className="read-reason"
            onClick={() => adjusting.change({ why: reason })}
          >
            {reason}
          </button>
        ))}
      </fieldset>
      <div className="read-form-fields">
        {field('why', words.why, { maxLength: 2000, isNeeded: true })}
        <Field
          label={words.who}
          value={adjusting.operator}
          fault={faultOf('who')}
          onValue={adjusting.setOperator}
          maxLength={200}
          isNeeded
        />
      </div>
      {changes.length > 0 && <Changes changes={changes} mark={mark} />}
      <div className="row">
        <button type="submit" className="button button-main" disabled={adjusting.isKeeping}>
          {words.keep}
        </button>
        <button type="button" className="button" onClick={adjusting.close}>
          {words.leave}
        </button>
      </div>
    </form>
  )
}

type FieldName = 'fromS' | 'toS' | 'atS' | 'byS' | 'byMm' | 'count' | 'factor' | 'why'
const NUMBER = { inputMode: 'decimal' } as const
const NEEDED_NUMBER = { ...NUMBER, isNeeded: true } as const

/** Value before → after, for every figure that would change. */
const Changes = ({
  changes,
  mark,
}: {
  changes: ReturnType<typeof beforeAfter>
  mark: (text: string) => string
}): ReactNode => (
  <table className="read-changes" aria-live="polite">
    <thead>
      <tr>
        <td />
        <th scope="col">{words.before}</th>
        <th scope="col">{words.after}</th>
      </tr>
    </thead>
    <tbody>
      {changes.map(({ name, before, after }) => (
        <tr key={name}>
          <th scope="row">{name}</th>
          <td>{mark(before)}</td>
          <td>
            <span aria-hidden="true">→ </span>
            {mark(after)}
          </td>
        </tr>
      ))}
    </tbody>
  </table>
)
