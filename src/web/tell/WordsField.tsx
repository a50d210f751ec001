import { useId } from 'react'
import { DraftArea } from '../parts/DraftArea.tsx'

/** Longer text of the maker; it counts once the field is left. */
export function WordsField({
  id: given,
  label,
  hint,
  value,
  keptAs,
  rows = 4,
  autoFocus = false,
  onCommit,
}: {
  id?: string
  label: string
  hint: string
  value: string
  /** Names what is written, so that a reload of the page does not lose it. */
  keptAs: string
  rows?: number
  autoFocus?: boolean
  onCommit: (text: string) => void
}) {
  const own = useId()
  const id = given ?? own
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <DraftArea
        id={id}
        ref={field => {
          if (autoFocus) field?.focus()
        }}
        className="input tell-words"
        rows={rows}
        maxLength={10_000}
        value={value}
        keptAs={keptAs}
        aria-describedby={`${id}-hint`}
        onCommit={onCommit}
      />
      <span id={`${id}-hint`} className="pencil small">
        {hint}
      </span>
    </div>
  )
}
