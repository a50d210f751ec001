import { type ReactNode, useState } from 'react'

/** A part of a page that few need: its name, and the part itself once it is asked for. */
export function Folded({ name, id, children }: { name: string; id?: string; children: ReactNode }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <details id={id} className="folded" onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>{name}</summary>
      {isOpen && children}
    </details>
  )
}

/** Opens such a part from elsewhere on the page, and brings it into sight. */
export function unfold(id: string): void {
  const part = document.getElementById(id)
  if (!(part instanceof HTMLDetailsElement)) return
  part.open = true
  part.querySelector('summary')?.focus({ preventScroll: true })
  part.scrollIntoView({ block: 'start' })
}
