import { type ComponentProps, useEffect, useRef, useState } from 'react'

/** A field whose text counts once it is left or Enter is pressed, so that what depends on it does not jump at each key. */
export function DraftInput({
  value,
  onCommit,
  onLeave,
  ...others
}: {
  value: string
  onCommit: (text: string) => void
  /** Enter, Escape, or the field is left: whether or not its text was changed. */
  onLeave?: () => void
} & Omit<ComponentProps<'input'>, 'value' | 'onChange' | 'onBlur' | 'onKeyDown'>) {
  const [draft, setDraft] = useState(value)
  const committed = useRef(value)
  useEffect(() => {
    committed.current = value
    setDraft(value)
  }, [value])
  const commit = () => {
    if (draft === committed.current) return
    committed.current = draft
    onCommit(draft)
  }
  return (
    <input
      {...others}
      className={others.className ?? 'input'}
      value={draft}
      onChange={event => setDraft(event.target.value)}
      onBlur={() => {
        commit()
        onLeave?.()
      }}
      onKeyDown={event => {
        if (event.key === 'Enter') commit()
        if (event.key === 'Escape') setDraft(committed.current)
        if (event.key === 'Enter' || event.key === 'Escape') onLeave?.()
      }}
    />
  )
}
