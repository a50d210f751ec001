import { useState } from 'react'
import type { Specimen } from '../../../server/apiTypes.ts'
import { texts } from '../../texts/index.ts'
import { Field } from '../adjust/Field.tsx'
import { NUMBER_FIELDS, type NumberField, TEXT_FIELDS, typedFigure } from './specimenFields.ts'
import type { useSpecimenChange } from './useSpecimenChange.ts'

const words = texts.read.facts

/** Operator, batch, size and conditions. A field is kept when it is left. */
export function SpecimenFields({
  specimen,
  change,
}: {
  specimen: Specimen
  change: ReturnType<typeof useSpecimenChange>
}) {
  // What is being typed; a field that is not here shows what is kept.
  const [typed, setTyped] = useState<Readonly<Partial<Record<string, string>>>>({})
  const [wrong, setWrong] = useState<readonly string[]>([])
  const type = (name: string, text: string | undefined) => setTyped(was => ({ ...was, [name]: text }))

  const leaveText = (name: (typeof TEXT_FIELDS)[number] | 'note') => {
    const text = typed[name]
    if (text === undefined) return
    type(name, undefined)
    if (text.trim() !== specimen[name])
      change.change({ [name]: text.trim() }, words.changed(name === 'note' ? words.remark : words[name]))
  }
  const leaveFigure = (name: NumberField) => {
    const text = typed[name]
    if (text === undefined) return
    const figure = typedFigure(specimen, name, text)
    setWrong(was => (figure.kind === 'wrong' ? [...was, name] : was.filter(other => other !== name)))
    if (figure.kind === 'wrong') return
    type(name, undefined)
    if (figure.kind === 'changed') change.change(figure.patch, words.changed(words[name]))
  }
  return (
    <div className="read-form-fields">
      {TEXT_FIELDS.map(name => (
        <Field
          key={name}
          label={words[name]}
          value={typed[name] ?? specimen[name]}
          fault={null}
          maxLength={200}
          onValue={text => type(name, text)}
          onBlur={() => leaveText(name)}
        />
      ))}
      {(Object.keys(NUMBER_FIELDS) as NumberField[]).map(name => (
        <Field
          key={name}
          label={words[name]}
          value={typed[name] ?? (specimen[name] === null ? '' : String(specimen[name]))}
          fault={wrong.includes(name) ? words.notANumber : null}
          inputMode="decimal"
          onValue={text => type(name, text)}
          onBlur={() => leaveFigure(name)}
        />
      ))}
      <div className="read-remark">
        <Field
          label={words.remark}
          value={typed.note ?? specimen.note}
          fault={null}
          onValue={text => type('note', text)}
          onBlur={() => leaveText('note')}
        />
      </div>
    </div>
  )
}
