import { useEffect, useId, useState } from 'react'

/** Longer text of the maker; it counts once the field is left. */
export function WordsField({
  label,
  hint,
  value,
  rows = 4,
  autoFocus = false,
  onCommit,
}: {
  label: string
  hint?: string
  value: string
  rows?: number
  autoFocus?: boolean
  onCommit: (text: string) => void
}) {
  const id = useId()
  const [draft, setDraft] = useState(value)
  useEffect(() => setDraft(value), [value])
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <textarea
        id={id}
        ref={field => {
          if (autoFocus) field?.focus()
        }}
        className="input tell-words"
        rows={rows}
        maxLength={10_000}
        value={draft}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={event => setDraft(event.target.value)}
        onBlur={() => draft !== value && onCommit(draft)}
      />
      {hint !== undefined && (
        <span id={`${id}-hint`} className="pencil small">
          {hint}
        </span>
      )}
    </div>
  )
}
