import { useState } from 'react'
import type { OpenStudy } from '../data/backend.ts'
import { Answered } from '../parts/Answered.tsx'
import { Needed } from '../parts/Needed.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { useVariantChanges } from './useVariantChanges.ts'
import { VariantLine } from './VariantLine.tsx'

const t = texts.plan
export const NEW_VARIANT_ID = 'plan-new-variant'
export const VARIANTS_ID = 'plan-variants'

/** What is compared: a line each, in their order. */
export function Variants({ open, isAsked }: { open: OpenStudy; isAsked: boolean }) {
  const [name, setName] = useState('')
  const changes = useVariantChanges(open)
  return (
    <Answered
      id={VARIANTS_ID}
      heading={t.variants}
      answer={open.variants.map(({ name }) => name).join(', ')}
      isAsked={isAsked}
      className="not-printed"
    >
      <ol className="plain-list plan-variants">
        {open.variants.map((variant, i) => (
          <VariantLine
            key={variant.id}
            variant={variant}
            open={open}
            place={i}
            of={open.variants.length}
            studyElements={open.study.elements}
            changes={changes}
          />
        ))}
      </ol>
      <form
        className="row plan-add"
        onSubmit={event => {
          event.preventDefault()
          if (name.trim() === '') return
          void changes.add(name.trim()).then(isThere => isThere && setName(''))
        }}
      >
        <label htmlFor={NEW_VARIANT_ID}>{t.newVariant}</label>
        <Needed />
        <input
          id={NEW_VARIANT_ID}
          required
          className="input"
          value={name}
          maxLength={200}
          placeholder={open.variants.length === 0 ? t.newVariantHint : ''}
          onChange={event => setName(event.target.value)}
        />
        <button type="submit" className="button" disabled={changes.isBusy}>
          {t.addVariant}
        </button>
      </form>
      <Problems error={changes.error} />
    </Answered>
  )
}
