import { useId, useState } from 'react'
import type { Variant } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { Problems } from '../parts/Problems.tsx'
import { useSpecimenEdits } from '../specimens/useSpecimenEdits.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan
const NONE = ''
const REMOVE = '\u0000remove'

/** Asks what becomes of the specimens of a variant that is to be removed, and removes it. */
export function RemoveVariant({
  open,
  variant,
  onDone,
}: {
  open: OpenStudy
  variant: Variant
  onDone: () => void
}) {
  const id = useId()
  const edits = useSpecimenEdits(open.study.id)
  const [to, setTo] = useState(NONE)
  const own = open.specimens.filter(one => one.variantId === variant.id)
  const others = open.variants.filter(one => one.id !== variant.id)
  const remove = async () => {
    const gone = to === REMOVE ? own.map(one => ({ kind: 'remove', specimenId: one.id }) as const) : []
    const specimensTo = to === NONE || to === REMOVE ? null : to
    const steps = [...gone, { kind: 'remove-variant', variantId: variant.id, specimensTo } as const]
    const name = others.find(one => one.id === to)?.name ?? null
    const what = t.removedVariant(variant.name, own.length, to === REMOVE ? 'removed' : name)
    if (await edits.apply(steps, what)) onDone()
  }
  return (
    <form
      className="plan-remove"
      aria-label={t.removeVariant(variant.name)}
      onSubmit={event => {
        event.preventDefault()
        void remove()
      }}
    >
      <label htmlFor={id}>{t.whatBecomes(own.length, variant.name)}</label>
      {/* biome-ignore lint/a11y/noAutofocus: the question has just been asked for */}
      <select id={id} className="input" autoFocus value={to} onChange={event => setTo(event.target.value)}>
        <option value={NONE}>{t.becomesLoose}</option>
        {others.map(one => (
          <option key={one.id} value={one.id}>
            {t.becomesOf(one.name)}
          </option>
        ))}
        <option value={REMOVE}>{t.becomesRemoved}</option>
      </select>
      <button type="submit" className="button button-main" disabled={edits.isBusy}>
        {t.removeVariant(variant.name)}
      </button>
      <button type="button" className="button" onClick={onDone}>
        {t.keepVariant}
      </button>
      <Problems error={edits.error} />
    </form>
  )
}
