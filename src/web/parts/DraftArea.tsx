import { type ComponentProps, useEffect, useState } from 'react'

/** Writing of several lines that counts once it is left; Escape brings back what was kept. */
export function DraftArea({
  value,
  onCommit,
  isOneParagraph = false,
  ...others
}: {
  value: string
  onCommit: (text: string) => void
  /** Enter leaves it, as in a heading that wraps. */
  isOneParagraph?: boolean
} & Omit<ComponentProps<'textarea'>, 'value' | 'onChange' | 'onBlur' | 'onKeyDown'>) {
  const [draft, setDraft] = useState(value)
  useEffect(() => setDraft(value), [value])
  return (
    <textarea
      {...others}
      value={draft}
      onChange={event =>
        setDraft(isOneParagraph ? event.target.value.replaceAll('\n', ' ') : event.target.value)
      }
      onBlur={() => {
        if (draft.trim() !== value) onCommit(draft.trim())
      }}
      onKeyDown={event => {
        if (event.key === 'Escape') setDraft(value)
        if (event.key === 'Enter' && isOneParagraph) {
          event.preventDefault()
          event.currentTarget.blur()
        }
      }}
    />
  )
}
