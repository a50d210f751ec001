import { type FormEvent, useId } from 'react'
import type { NewNote, Specimen, StoredNote } from '../../../server/apiTypes.ts'
import { useSettings } from '../../app/settings.tsx'
import { useFoot } from '../../app/undo.tsx'
import { useChange, useNotes } from '../../data/queries.ts'
import { useKept } from '../../live/kept.ts'
import { Needed } from '../../parts/Needed.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'

const words = texts.read.notes

/** Notes on a specimen, with who and when. */
export function Notes({ specimen }: { specimen: Specimen }) {
  const id = useId()
  const foot = useFoot()
  const { settings } = useSettings()
  const subject = { kind: 'specimen', id: specimen.id } as const
  const { data: notes, error } = useNotes(subject)
  const [kept, setText] = useKept(`draft.note.${specimen.id}`, 'session')
  const text = kept ?? ''
  const adding = useChange<NewNote, StoredNote>((backend, note) => backend.notes.add(note))
  const removing = useChange<StoredNote, void>((backend, note) => backend.notes.remove(note.id))
  const add = (event: FormEvent) => {
    event.preventDefault()
    const written = text.trim()
    if (written === '') return
    adding.mutate({ subject, text: written, operator: settings.operator }, { onSuccess: () => setText(null) })
  }
  const remove = (note: StoredNote) =>
    removing.mutate(note, {
      onSuccess: () =>
        foot.did(words.removed, () =>
          adding.mutateAsync({ subject, text: note.text, operator: note.operator }),
        ),
    })
  return (
    <section aria-labelledby={`${id}h`}>
      <h3 id={`${id}h`}>{words.heading}</h3>
      <Problems error={error ?? adding.error ?? removing.error} />
      {notes?.length === 0 && <p className="pencil">{words.none}</p>}
      <ul className="plain-list">
        {notes?.map(note => (
          <li key={note.id} className="read-note">
            <p>{note.text}</p>
            <p className="pencil small">
              {words.signed(note.operator, note.madeAt.slice(0, 10))}{' '}
              <button
                type="button"
                className="button-plain read-quiet"
                aria-label={words.removeNote(note.text.slice(0, 60))}
                onClick={() => remove(note)}
              >
                {words.remove}
              </button>
            </p>
          </li>
        ))}
      </ul>
      <form onSubmit={add}>
        <div className="field">
          <label htmlFor={id}>{words.write}</label>
          <Needed />
          <textarea
            id={id}
            required
            className="input"
            rows={2}
            maxLength={10_000}
            value={text}
            onChange={event => setText(event.target.value)}
          />
        </div>
        <button type="submit" className="button" disabled={adding.isPending}>
          {words.add}
        </button>
      </form>
    </section>
  )
}
