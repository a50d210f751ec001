import { type ReactNode, useState } from 'react'

/** A part of a page that few need: its name, and the part itself once it is asked for. */
export function Folded({ name, children }: { name: string; children: ReactNode }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <details className="folded" onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>{name}</summary>
      {isOpen && children}
    </details>
  )
}
