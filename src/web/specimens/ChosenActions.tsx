import { useId, useState } from 'react'
import type { Specimen } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import type { SpecimenEdits } from './useSpecimenEdits.ts'

const t = texts.specimens

/** What can be done with the chosen rows of the table. */
export function ChosenActions({
  open,
  chosen,
  edits,
  onFillDown,
  onDone,
}: {
  open: OpenStudy
  chosen: readonly Specimen[]
  edits: SpecimenEdits
  onFillDown: () => void
  onDone: () => void
}) {
  const id = useId()
  const [variant, setVariant] = useState('')
  const names = t.names(chosen.map(({ name }) => name))
  const none = chosen.length === 0 || edits.isBusy
  const apply = async (...given: Parameters<SpecimenEdits['apply']>) => {
    if (await edits.apply(...given)) onDone()
  }
  const move = () => {
    const to = variant.trim() === '' ? null : variant.trim()
    const steps = chosen.map(one => ({ kind: 'to-variant', specimenId: one.id, variant: to }) as const)
    void apply(steps, to === null ? t.unassigned(names) : t.movedTo(names, to)).then(() => setVariant(''))
  }
  const merge = () => {
    const [first, ...others] = chosen
    if (first)
      void apply(
        [{ kind: 'merge', specimenId: first.id, others: others.map(one => one.id) }],
        t.merged(names),
      )
  }
  const remove = () =>
    void apply(
      chosen.map(one => ({ kind: 'remove', specimenId: one.id }) as const),
      t.removed(names),
    )
  const number = () =>
    void apply(
      chosen.map(
        (one, at) => ({ kind: 'change', specimenId: one.id, fields: { pullOrder: at + 1 } }) as const,
      ),
      t.numbered(chosen.length),
    )
  return (
    <div className="specimens-actions not-printed">
      <span role="status">{t.chosen(chosen.length)}</span>
      <form
        className="row"
        onSubmit={event => {
          event.preventDefault()
          move()
        }}
      >
        <label htmlFor={id}>{t.toVariant}</label>
        <input
          id={id}
          className="input specimens-to"
          list={`${id}-variants`}
          value={variant}
          maxLength={200}
          autoComplete="off"
          placeholder={t.notAssigned}
          onChange={event => setVariant(event.target.value)}
        />
        <datalist id={`${id}-variants`}>
          {open.variants.map(one => (
            <option key={one.id} value={one.name} />
          ))}
        </datalist>
        <button type="submit" className="button" disabled={none}>
          {texts.specimens.move}
        </button>
      </form>
      <button
        type="button"
        className="button"
        title={t.fillDownWhat}
        disabled={edits.isBusy}
        onClick={onFillDown}
      >
        {t.fillDown}
      </button>
      <button type="button" className="button" disabled={none || chosen.length < 2} onClick={merge}>
        {t.merge}
      </button>
      <button type="button" className="button" disabled={none} onClick={number}>
        {t.number}
      </button>
      <button type="button" className="button" disabled={none} onClick={remove}>
        {t.remove}
      </button>
    </div>
  )
}
