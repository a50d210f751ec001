import { useId, useState } from 'react'
import type { Specimen } from '../../../server/apiTypes.ts'
import { DraftInput } from '../../parts/DraftInput.tsx'
import { texts } from '../../texts/index.ts'
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
  const keepText = (name: TextField, text: string) => {
    if (text.trim() !== specimen[name])
      change.change({ [name]: text.trim() }, words.changed(name === 'note' ? words.remark : words[name]))
  }
  return (
    <div className="read-form-fields">
      <FactField
        label={words.name}
        value={specimen.name}
        maxLength={200}
        onCommit={text => {
          const name = text.trim()
          if (name !== '' && name !== specimen.name) change.change({ name }, words.changed(words.name))
        }}
      />
      {TEXT_FIELDS.map(name => (
        <FactField
          key={name}
          label={words[name]}
          value={specimen[name]}
          maxLength={200}
          onCommit={text => keepText(name, text)}
        />
      ))}
      {(Object.keys(NUMBER_FIELDS) as NumberField[]).map(name => (
        <FigureField key={name} name={name} specimen={specimen} change={change} />
      ))}
      <div className="read-remark">
        <FactField label={words.remark} value={specimen.note} onCommit={text => keepText('note', text)} />
      </div>
    </div>
  )
}

type TextField = (typeof TEXT_FIELDS)[number] | 'note'

function FigureField({
  name,
  specimen,
  change,
}: {
  name: NumberField
  specimen: Specimen
  change: ReturnType<typeof useSpecimenChange>
}) {
  const [isWrong, setIsWrong] = useState(false)
  const keep = (text: string) => {
    const figure = typedFigure(specimen, name, text)
    setIsWrong(figure.kind === 'wrong')
    if (figure.kind === 'changed') change.change(figure.patch, words.changed(words[name]))
  }
  return (
    <FactField
      label={words[name]}
      value={specimen[name] === null ? '' : String(specimen[name])}
      fault={isWrong ? words.notANumber : null}
      inputMode="decimal"
      onCommit={keep}
    />
  )
}

/** A field with its label that is kept when it is left, and what is wrong with it. */
function FactField({
  label,
  fault = null,
  ...field
}: {
  label: string
  value: string
  fault?: string | null
  inputMode?: 'decimal'
  maxLength?: number
  onCommit: (text: string) => void
}) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <DraftInput
        {...field}
        id={id}
        autoComplete="off"
        aria-invalid={fault !== null}
        aria-describedby={fault === null ? undefined : `${id}-fault`}
      />
      {fault !== null && (
        <span id={`${id}-fault`} className="warning small">
          {fault}
        </span>
      )}
    </div>
  )
}
