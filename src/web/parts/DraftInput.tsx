import type { ComponentProps } from 'react'
import { DraftWaits } from './DraftWaits.tsx'
import { useDraft } from './useDraft.ts'

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
} & Omit<ComponentProps<'input'>, 'value' | 'onChange' | 'onFocus' | 'onBlur' | 'onKeyDown'>) {
  const drafted = useDraft({ value, onCommit })
  return (
    <>
      <input
        {...others}
        className={others.className ?? 'input'}
        value={drafted.text}
        onChange={event => drafted.type(event.target.value)}
        onFocus={drafted.enter}
        onBlur={() => {
          drafted.leave()
          onLeave?.()
        }}
        onKeyDown={event => {
          if (event.key === 'Enter') drafted.leave()
          if (event.key === 'Escape') drafted.forget()
          if (event.key === 'Enter' || event.key === 'Escape') onLeave?.()
        }}
      />
      <DraftWaits drafted={drafted} value={value} />
    </>
  )
}
