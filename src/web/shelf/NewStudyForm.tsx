import { useId, useState } from 'react'
import { useHashLocation } from 'wouter/use-hash-location'
import { addressOf } from '../app/places.ts'
import { useSettings } from '../app/settings.tsx'
import { useChange } from '../data/queries.ts'
import { Needed } from '../parts/Needed.tsx'
import { Problems } from '../parts/Problems.tsx'
import { useFocus } from '../parts/useFocus.ts'
import { texts } from '../texts/index.ts'
import { variantNames } from './shelved.ts'

interface Typed {
  readonly name: string
  readonly question: string
  readonly variants: string
}

/** A new study in one small form; it opens at Plan. */
export function NewStudyForm({ onClose }: { onClose: () => void }) {
  const id = useId()
  const [, navigate] = useHashLocation()
  const { settings } = useSettings()
  const [typed, setTyped] = useState<Typed>({ name: '', question: '', variants: '' })
  const make = useChange(async (backend, { name, question, variants }: Typed) => {
    const equivalents = settings.equivalents.map(equivalent => ({ ...equivalent }))
    const study = await backend.studies.create({ name: name.trim(), question: question.trim(), equivalents })
    for (const variant of variantNames(variants)) await backend.variants.create(study.id, { name: variant })
    return study
  })
  const field = (key: keyof Typed) => ({
    id: `${id}-${key}`,
    className: 'input',
    value: typed[key],
    onChange: (event: { target: { value: string } }) => setTyped({ ...typed, [key]: event.target.value }),
  })
  return (
    <form
      className="shelf-form"
      onSubmit={event => {
        event.preventDefault()
        make.mutateAsync(typed).then(
          study => navigate(addressOf.place(study.id, 'plan')),
          () => {},
        )
      }}
      onKeyDown={event => {
        if (event.key === 'Escape') onClose()
      }}
    >
      <div className="field">
        <label htmlFor={`${id}-name`}>{texts.shelf.name}</label>
        <Needed />
        <input {...field('name')} required maxLength={200} ref={useFocus<HTMLInputElement>()} />
      </div>
      <div className="field">
        <label htmlFor={`${id}-question`}>{texts.shelf.question}</label>
        <input {...field('question')} maxLength={2000} placeholder={texts.shelf.questionHint} />
      </div>
      <div className="field">
        <label htmlFor={`${id}-variants`}>{texts.shelf.variants}</label>
        <textarea {...field('variants')} rows={3} placeholder={texts.shelf.variantsHint} />
      </div>
      <Problems error={make.error} />
      <div className="row">
        <button type="submit" className="button button-main" disabled={make.isPending}>
          {texts.shelf.make}
        </button>
        <button type="button" className="button button-plain" onClick={onClose}>
          {texts.shelf.notNow}
        </button>
      </div>
    </form>
  )
}
