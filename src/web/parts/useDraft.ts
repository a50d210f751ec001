import { useState } from 'react'
import { useKept } from '../live/kept.ts'

/** What has been typed into a field, and what stood there when the typing began. */
interface Typed {
  readonly text: string
  readonly over: string
}

/**
 * What is being written in a field whose text counts once it is left. It stays as typed until what is kept says the
 * same: a server that is away, another window that changes the same field, and, where `keptAs` names it, a reload lose
 * nothing. `tidy` is what is done to a text before it counts.
 */
export function useDraft({
  value,
  onCommit,
  tidy = text => text,
  keptAs,
}: {
  value: string
  onCommit: (text: string) => void
  tidy?: (text: string) => string
  keptAs?: string | undefined
}) {
  const [kept, keep] = useKept(`draft.${keptAs ?? ''}`, 'session')
  const [plain, setPlain] = useState<string | null>(null)
  const [json, setJson] = keptAs === undefined ? [plain, setPlain] : [kept, keep]
  const typed = typedFrom(json)
  const [isCommitted, setIsCommitted] = useState(false)
  const [isRestored, setIsRestored] = useState(typed !== null && typed.text !== value)

  const forget = () => {
    setJson(null)
    setIsCommitted(false)
    setIsRestored(false)
  }
  // What is kept now says the same, or what was committed has been taken in some other form.
  if (typed && (typed.text === value || (isCommitted && typed.over !== value))) forget()

  const isBehind = typed !== null && typed.over !== value && !isCommitted
  const commit = (over: string = value) => {
    if (typed === null) return
    if (tidy(typed.text) === value) {
      forget()
      return
    }
    setJson(JSON.stringify({ text: typed.text, over } satisfies Typed))
    setIsCommitted(true)
    setIsRestored(false)
    onCommit(tidy(typed.text))
  }
  return {
    text: typed?.text ?? value,
    /** Written, but not kept: over something that has changed meanwhile, or before the page was left. */
    waits: isBehind ? ('behind' as const) : isRestored ? ('restored' as const) : null,
    type(text: string) {
      setIsCommitted(false)
      setJson(JSON.stringify({ text, over: typed?.over ?? value } satisfies Typed))
    },
    /** The person is back in the field: what could not be kept counts anew when it is left. */
    enter: () => setIsCommitted(false),
    leave() {
      if (!isBehind && !isCommitted) commit()
    },
    /** Whatever stands there now is written over. */
    commit,
    forget,
  }
}

export type Drafted = ReturnType<typeof useDraft>

function typedFrom(json: string | null): Typed | null {
  if (json === null) return null
  try {
    const { text, over } = JSON.parse(json) as Partial<Typed>
    return typeof text === 'string' && typeof over === 'string' ? { text, over } : null
  } catch {
    return null
  }
}
