import { type FormEvent, useState } from 'react'
import { useFocus } from '../parts/useFocus.ts'
import { texts } from '../texts/index.ts'
import type { Pull } from './usePull.ts'

const words = texts.pull

/** A note at this moment. The pull goes on while it is written. */
export function NoteForm({ pull }: { pull: Pull }) {
  const field = useFocus<HTMLInputElement>()
  const [text, setText] = useState('')
  const leave = () => pull.openPanel(null)
  const send = (event: FormEvent) => {
    event.preventDefault()
    if (text.trim() === '') leave()
    else pull.sendNote(text.trim())
  }
  return (
    <form className="pull-form" onSubmit={send} onKeyDown={event => event.key === 'Escape' && leave()}>
      <div className="field">
        <label htmlFor="pull-note">{words.noteField}</label>
        <input
          ref={field}
          id="pull-note"
          className="input"
          value={text}
          maxLength={1_900}
          autoComplete="off"
          onChange={event => setText(event.target.value)}
        />
      </div>
      <div className="row">
        <button type="submit" className="button button-main">
          {words.noteSend}
        </button>
        <button type="button" className="button" onClick={leave}>
          {words.why.leave}
        </button>
      </div>
    </form>
  )
}
