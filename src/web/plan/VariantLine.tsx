import { useId, useState } from 'react'
import type { Variant } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { wholeOrNull } from '../parts/typed.ts'
import { useSpecimenEdits } from '../specimens/useSpecimenEdits.ts'
import { texts } from '../texts/index.ts'
import { RemoveVariant } from './RemoveVariant.tsx'
import type { useVariantChanges } from './useVariantChanges.ts'

const t = texts.plan

/** A variant as a line: its name, how many elements it has, whether it is the control, its place. */
export function VariantLine({
  variant,
  open,
  place,
  of,
  studyElements,
  changes,
}: {
  open: OpenStudy
  variant: Variant
  place: number
  of: number
  studyElements: number | null
  changes: ReturnType<typeof useVariantChanges>
}) {
  const id = useId()
  const [isLeaving, setLeaving] = useState(false)
  const edits = useSpecimenEdits(open.study.id)
  const { name } = variant
  const remove = () => {
    if (open.specimens.some(one => one.variantId === variant.id)) setLeaving(!isLeaving)
    else
      void edits.apply(
        [{ kind: 'remove-variant', variantId: variant.id, specimensTo: null }],
        t.removedVariant(name, 0, null),
      )
  }
  const move = (by: -1 | 1) =>
    changes.change({ ...variant, place }, { place: place + by }, t.didMoveVariant(name))
  return (
    <li className="plan-variant">
      <DraftInput
        value={name}
        aria-label={t.variantName(place + 1)}
        maxLength={200}
        onCommit={text => {
          if (text.trim() !== '')
            changes.change(variant, { name: text.trim() }, t.didRenameVariant(name, text.trim()))
        }}
      />
      <span className="plan-inline">
        <label htmlFor={`${id}-elements`}>{t.elements}</label>
        <FigureInput
          id={`${id}-elements`}
          className="input plan-figure"
          value={variant.elements}
          placeholder={studyElements === null ? '' : String(studyElements)}
          read={wholeOrNull}
          fault={t.notWhole}
          onFigure={elements => changes.change(variant, { elements }, t.didElements(name))}
        />
      </span>
      <label className="plan-inline plan-tick" title={t.controlTitle}>
        <input
          type="checkbox"
          checked={variant.control}
          onChange={event => changes.change(variant, { control: event.target.checked }, t.didControl(name))}
        />
        {t.control}
      </label>
      <span className="plan-variant-buttons">
        <button type="button" className="button button-plain" disabled={place === 0} onClick={() => move(-1)}>
          {t.earlier}
          <span className="hidden-words">{name}</span>
        </button>
        <button
          type="button"
          className="button button-plain"
          disabled={place === of - 1}
          onClick={() => move(1)}
        >
          {t.later}
          <span className="hidden-words">{name}</span>
        </button>
        <button type="button" className="button button-plain" aria-expanded={isLeaving} onClick={remove}>
          {t.remove}
          <span className="hidden-words">{name}</span>
        </button>
      </span>
      {isLeaving && <RemoveVariant open={open} variant={variant} onDone={() => setLeaving(false)} />}
    </li>
  )
}
