const FIELDS = 'input, select, textarea, button'

/**
 * Leads to where something is done: opens the folded part `partId` that it lies in, brings `id` into sight and puts the
 * keyboard into it, or into its first field. What a folded part holds is drawn only once it is open: it is waited for.
 */
export function leadTo(id: string, partId?: string): void {
  const part = partId === undefined ? null : document.getElementById(partId)
  if (part instanceof HTMLDetailsElement && !part.open) {
    part.open = true
    part.querySelector('summary')?.focus({ preventScroll: true })
  }
  if (arriveAt(id) || part === null) return
  const drawn = new MutationObserver(() => {
    if (arriveAt(id)) drawn.disconnect()
  })
  drawn.observe(part, { childList: true, subtree: true })
}

function arriveAt(id: string): boolean {
  const place = document.getElementById(id)
  if (place === null) return false
  place.scrollIntoView({ block: 'center' })
  const field = place.matches(FIELDS) ? place : (place.querySelector<HTMLElement>(FIELDS) ?? place)
  field.focus({ preventScroll: true })
  return true
}
