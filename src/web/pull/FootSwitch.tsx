import { useEffect, useState } from 'react'
import { texts } from '../texts/index.ts'
import { OWN_KEYS } from './usePullKeys.ts'

const words = texts.pull

/** Learns which key a foot switch types. */
export function FootSwitch({
  footKey,
  onKey,
  onClose,
}: {
  footKey: string | null
  onKey: (key: string | null) => void
  onClose: () => void
}) {
  const [taken, setTaken] = useState<string | null>(null)
  useEffect(() => {
    const learn = (event: KeyboardEvent) => {
      // Keys that move about on the page stay what they are.
      if (['Tab', 'Shift', 'Control', 'Alt', 'Meta', 'Enter'].includes(event.key)) return
      event.preventDefault()
      event.stopImmediatePropagation()
      if (event.key === 'Escape') onClose()
      else if (OWN_KEYS.includes(event.key.toLowerCase())) setTaken(event.key)
      else {
        onKey(event.key === ' ' ? null : event.key)
        onClose()
      }
    }
    // Before the keys of the place.
    addEventListener('keydown', learn, true)
    return () => removeEventListener('keydown', learn, true)
  }, [onKey, onClose])
  return (
    <section className="pull-foot" role="status">
      <p>{words.footLearn}</p>
      {taken !== null && <p className="warning">{words.footTaken(taken)}</p>}
      <div className="row">
        {footKey !== null && (
          <button
            type="button"
            className="button"
            onClick={() => {
              onKey(null)
              onClose()
            }}
          >
            {words.footForget}
          </button>
        )}
        <button type="button" className="button" onClick={onClose}>
          {words.footCancel}
        </button>
      </div>
    </section>
  )
}
