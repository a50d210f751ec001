import { useId, useState } from 'react'
import { Needed } from '../../parts/Needed.tsx'
import { typedNumber } from '../../parts/typed.ts'
import { texts } from '../../texts/index.ts'

const t = texts.rig

/** A reading typed off the rig's own display: the way without a line. */
export function ReadingForm({ unit, onTake }: { unit: string; onTake: (reading: string) => void }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const [isWrong, setIsWrong] = useState(false)
  return (
    <form
      className="row rig-typed"
      onSubmit={event => {
        event.preventDefault()
        const isReading = typedNumber(typed) !== null
        setIsWrong(!isReading)
        if (!isReading) return
        onTake(typed.trim().replace('−', '-').replace(',', '.'))
        setTyped('')
      }}
    >
      <label htmlFor={id}>{t.typedReading(unit)}</label>
      <Needed />
      <input
        id={id}
        className="input"
        inputMode="decimal"
        autoComplete="off"
        value={typed}
        aria-required="true"
        aria-invalid={isWrong}
        aria-describedby={isWrong ? `${id}-wrong` : undefined}
        onChange={event => setTyped(event.target.value)}
      />
      <button type="submit" className="button">
        {t.takeTyped}
      </button>
      {isWrong && (
        <span id={`${id}-wrong`} className="warning small" role="alert">
          {t.notAReading}
        </span>
      )}
    </form>
  )
}
