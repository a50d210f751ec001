import { useId } from 'react'
import { Needed } from '../../parts/Needed.tsx'

export interface FieldProps {
  readonly label: string
  readonly value: string
  /** What is wrong with it, in words; `null` for nothing. */
  readonly fault: string | null
  readonly onValue: (value: string) => void
  readonly onBlur?: () => void
  readonly inputMode?: 'decimal' | 'numeric'
  readonly maxLength?: number
  /** It cannot be left empty. */
  readonly isNeeded?: boolean
  /** Given, the field is a choice. */
  readonly options?: readonly { readonly value: string; readonly text: string }[]
}

/** A field with its label and, beside it, what is wrong with it. */
export function Field({
  label,
  value,
  fault,
  onValue,
  onBlur,
  inputMode,
  maxLength,
  isNeeded = false,
  options,
}: FieldProps) {
  const id = useId()
  const common = {
    id,
    className: 'input',
    value,
    onBlur,
    'aria-invalid': fault !== null,
    'aria-required': isNeeded,
    'aria-describedby': fault === null ? undefined : `${id}-fault`,
  }
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {isNeeded && <Needed />}
      {options ? (
        <select {...common} onChange={event => onValue(event.target.value)}>
          {options.map(({ value: option, text }) => (
            <option key={option} value={option}>
              {text}
            </option>
          ))}
        </select>
      ) : (
        <input
          {...common}
          inputMode={inputMode}
          maxLength={maxLength}
          autoComplete="off"
          onChange={event => onValue(event.target.value)}
        />
      )}
      {fault !== null && (
        <span id={`${id}-fault`} className="warning small">
          {fault}
        </span>
      )}
    </div>
  )
}
