import { memo, useEffect, useId } from 'react'
import { useLocation } from 'wouter'
import { addressOf } from '../app/places.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import { inReadingOrder, pulledIds } from './order.ts'

/** The specimens of the study, one at a time: by choice, by arrow, or by the keys “,” and “.” (also “[” and “]”). */
export const SpecimenSwitch = memo(function SpecimenSwitch({
  open,
  specimenId,
}: {
  open: OpenStudy
  specimenId: string
}) {
  const id = useId()
  const [, go] = useLocation()
  const order = inReadingOrder(open)
  const recorded = pulledIds(open)
  const at = order.findIndex(specimen => specimen.id === specimenId)
  const before = order[at - 1]?.id
  const after = order[at + 1]?.id
  const studyId = open.study.id
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isWriting(event.target)) return
      const to =
        event.key === ',' || event.key === '['
          ? before
          : event.key === '.' || event.key === ']'
            ? after
            : null
      if (!to) return
      event.preventDefault()
      go(addressOf.specimen(studyId, to))
    }
    addEventListener('keydown', pressed)
    return () => removeEventListener('keydown', pressed)
  }, [before, after, studyId, go])
  const variantOf = (variantId: string | null) => open.variants.find(v => v.id === variantId)?.name ?? ''
  const step = (to: string | undefined, face: string, name: string) => (
    <button
      type="button"
      className="button"
      aria-label={name}
      title={name}
      disabled={to === undefined}
      onClick={() => to !== undefined && go(addressOf.specimen(studyId, to))}
    >
      {face}
    </button>
  )
  return (
    <div className="read-switch">
      {step(before, '←', texts.read.previous)}
      <label className="hidden-words" htmlFor={id}>
        {texts.read.specimen}
      </label>
      <select
        id={id}
        className="input"
        value={specimenId}
        onChange={event => go(addressOf.specimen(studyId, event.target.value))}
      >
        {order.map(specimen => (
          <option key={specimen.id} value={specimen.id}>
            {[
              specimen.name,
              variantOf(specimen.variantId),
              specimen.status === 'left-out' ? texts.read.isLeftOut : '',
              recorded.has(specimen.id) ? '' : texts.read.noRecording,
            ]
              .filter(Boolean)
              .join(' · ')}
          </option>
        ))}
      </select>
      {step(after, '→', texts.read.following)}
      <span className="pencil small">{texts.read.place(at + 1, order.length)}</span>
    </div>
  )
})

/** Keys belong to a text that is being written. */
const isWriting = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.matches('input, textarea, select, [contenteditable]')
