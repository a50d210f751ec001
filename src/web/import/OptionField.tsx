import { useId } from 'react'
import { FORCE_UNITS } from '../../core/units/force.ts'
import { type LogOptions, TIME_UNITS } from '../../logs/index.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { texts } from '../texts/index.ts'
import { type OptionName, withOption } from './cures.ts'

/** One thing that a person may say about a log; empty: as it is understood. */
export function OptionField({
  name,
  options,
  columns,
  onChange,
}: {
  name: OptionName
  options: LogOptions
  columns: readonly string[]
  onChange: (options: LogOptions) => void
}) {
  const id = useId()
  const value = String(options[name] ?? '')
  const change = (typed: string) => onChange(withOption(options, name, typed))
  const choices = choicesOf(name, columns)
  return (
    <div className="field import-option">
      <label htmlFor={id}>{texts.import.options[name]}</label>
      {choices === null ? (
        <DraftInput
          id={id}
          value={value}
          inputMode={name === 'rateHz' ? 'decimal' : 'text'}
          placeholder={name === 'rateHz' ? texts.import.fromTimes : texts.import.asUnderstood}
          onCommit={change}
        />
      ) : (
        <select id={id} className="input" value={value} onChange={event => change(event.target.value)}>
          <option value="">{texts.import.asUnderstood}</option>
          {choices.map(([given, words]) => (
            <option key={given} value={given}>
              {words}
            </option>
          ))}
        </select>
      )}
    </div>
  )
}

function choicesOf(
  name: OptionName,
  columns: readonly string[],
): readonly (readonly [string, string])[] | null {
  const { counts, positive, negative, point, comma, column, encodings } = texts.import
  switch (name) {
    case 'rateHz':
      return null
    case 'time':
    case 'force':
      return columns.length === 0
        ? null
        : columns.map((header, i) => [String(i + 1), column(i + 1, header)] as const)
    case 'timeUnit':
      return Object.keys(TIME_UNITS).map(unit => [unit, unit] as const)
    case 'unit':
      return [...FORCE_UNITS.map(unit => [unit, unit] as const), ['counts', counts] as const]
    case 'tension':
      return [
        ['positive', positive],
        ['negative', negative],
      ]
    case 'decimal':
      return [
        ['point', point],
        ['comma', comma],
      ]
    case 'encoding':
      return encodings
  }
}
