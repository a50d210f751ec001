import { type FormEvent, useState } from 'react'
import { Needed } from '../parts/Needed.tsx'
import { useFocus } from '../parts/useFocus.ts'
import { texts } from '../texts/index.ts'

const words = texts.pull.why

/** Asks for the reason beside a recording that is pulled again, or a specimen that is spoiled. */
export function ReasonForm({
  what,
  onWhy,
  onLeave,
}: {
  what: 'redo' | 'spoil'
  onWhy: (why: string) => void
  onLeave: () => void
}) {
  const field = useFocus<HTMLInputElement>()
  const [why, setWhy] = useState('')
  const [isMissing, setMissing] = useState(false)
  const send = (event: FormEvent) => {
    event.preventDefault()
    if (why.trim() === '') setMissing(true)
    else onWhy(why.trim())
  }
  return (
    <form className="pull-form" onSubmit={send} onKeyDown={event => event.key === 'Escape' && onLeave()}>
      <div className="field">
        <label htmlFor="pull-why">{words[what]}</label>
        <Needed />
        <input
          ref={field}
          id="pull-why"
          className="input"
          value={why}
          maxLength={500}
          list="pull-whys"
          autoComplete="off"
          aria-required="true"
          aria-invalid={isMissing}
          aria-describedby={isMissing ? 'pull-why-fault' : undefined}
          onChange={event => {
            setWhy(event.target.value)
            setMissing(false)
          }}
        />
        <datalist id="pull-whys">
          {words.presets[what].map(preset => (
            <option key={preset} value={preset} />
          ))}
        </datalist>
        {isMissing && (
          <span id="pull-why-fault" className="warning small">
            {words.missing}
          </span>
        )}
      </div>
      <div className="row">
        {words.presets[what].map(preset => (
          <button key={preset} type="button" className="button" onClick={() => onWhy(preset)}>
            {preset}
          </button>
        ))}
      </div>
      <div className="row pull-form-end">
        <button type="submit" className="button button-main">
          {what === 'redo' ? words.redoNow : words.spoilNow}
        </button>
        <button type="button" className="button" onClick={onLeave}>
          {words.leave}
        </button>
      </div>
    </form>
  )
}
