import type { ComponentProps } from 'react'
import { DraftWaits } from './DraftWaits.tsx'
import { useDraft } from './useDraft.ts'

const trimmed = (text: string): string => text.trim()

/** Writing of several lines that counts once it is left, and outlives a reload; Escape brings back what was kept. */
export function DraftArea({
  value,
  onCommit,
  keptAs,
  isOneParagraph = false,
  ...others
}: {
  value: string
  onCommit: (text: string) => void
  /** Names what is written, so that a reload of the page does not lose it. */
  keptAs: string
  /** Enter leaves it, as in a heading that wraps. */
  isOneParagraph?: boolean
} & Omit<ComponentProps<'textarea'>, 'value' | 'onChange' | 'onFocus' | 'onBlur' | 'onKeyDown'>) {
  const drafted = useDraft({ value, onCommit, tidy: trimmed, keptAs })
  return (
    <>
      <textarea
        {...others}
        value={drafted.text}
        onChange={({ target }) =>
          drafted.type(isOneParagraph ? target.value.replaceAll('\n', ' ') : target.value)
        }
        onFocus={drafted.enter}
        onBlur={drafted.leave}
        onKeyDown={event => {
          if (event.key === 'Escape') drafted.forget()
          if (event.key === 'Enter' && isOneParagraph) {
            event.preventDefault()
            event.currentTarget.blur()
          }
        }}
      />
      <DraftWaits drafted={drafted} value={value} />
    </>
  )
}
