import { type ReactNode, useId, useState } from 'react'
import { useIsNarrow } from './useIsNarrow.ts'

/**
 * A part of a page with what it came to. On a narrow window it is one line, with the answer in it, until it is pressed;
 * what is asked for now stands open, and stays so once it is answered.
 */
export function Answered({
  heading,
  answer,
  isAsked = false,
  level = 2,
  id,
  className = '',
  children,
}: {
  heading: string
  /** In a few words; empty where there is none yet. */
  answer: string
  /** Whether this is what the page asks for now. */
  isAsked?: boolean
  level?: 2 | 3
  id?: string
  className?: string
  children: ReactNode
}) {
  const name = useId()
  const isNarrow = useIsNarrow()
  const [isOpen, setOpen] = useState(isAsked)
  const [wasAsked, setWasAsked] = useState(isAsked)
  // Asked for anew it opens, though it was folded by hand before: what was pressed leads here.
  if (isAsked !== wasAsked) {
    setWasAsked(isAsked)
    if (isAsked) setOpen(true)
  }
  const Heading = level === 2 ? 'h2' : 'h3'
  if (!isNarrow)
    return (
      <section id={id} aria-labelledby={name} className={className}>
        <Heading id={name}>{heading}</Heading>
        {children}
      </section>
    )
  return (
    <details
      id={id}
      className={`folded answered ${className}`}
      open={isOpen}
      onToggle={event => setOpen(event.currentTarget.open)}
    >
      <summary>
        <Heading>{heading}</Heading>
        {answer !== '' && <span className="answered-answer">{answer}</span>}
      </summary>
      {isOpen && children}
    </details>
  )
}
