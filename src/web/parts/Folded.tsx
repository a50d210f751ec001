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

/** Opens such a part from elsewhere on the page, and a part of it that is there as soon as it is open, and brings it into sight. */
export function unfold(id: string, within?: string): void {
  const part = document.getElementById(id)
  if (!(part instanceof HTMLDetailsElement)) return
  if (within !== undefined && !part.open)
    part.addEventListener('toggle', () => setTimeout(() => show(document.getElementById(within))), {
      once: true,
    })
  part.open = true
  show((within === undefined ? null : document.getElementById(within)) ?? part)
}

function show(part: HTMLElement | null): void {
  if (!(part instanceof HTMLDetailsElement)) return
  part.open = true
  part.querySelector('summary')?.focus({ preventScroll: true })
  part.scrollIntoView({ block: 'start' })
}
