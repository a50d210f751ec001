import { useState } from 'react'
import { Link } from 'wouter'
import type { Study } from '../../server/apiTypes.ts'
import { addressOf } from '../app/places.ts'
import { useStudyChange } from '../data/useStudyChange.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Problems } from '../parts/Problems.tsx'
import { useFocus } from '../parts/useFocus.ts'
import { texts } from '../texts/index.ts'
import { SpineAnswer } from './SpineAnswer.tsx'
import { useSeen } from './useSeen.ts'

/** The back of a study's notebook: its name, its question, when it was last written in, and its answer so far. */
export function Spine({ study }: { study: Study }) {
  const { id, name, question, archived, updatedAt } = study
  const [isRenaming, setRenaming] = useState(false)
  const [seen, place] = useSeen<HTMLLIElement>()
  const { change, error } = useStudyChange(study)
  const archive = (away: boolean) =>
    void change({ archived: away }, away ? texts.shelf.didArchive(name) : texts.shelf.didTakeOut(name))
  const rename = (typed: string) => {
    const given = typed.trim()
    if (given !== '' && given !== name) void change({ name: given }, texts.shelf.didRename(name, given))
  }
  return (
    <li ref={place} className="spine" data-archived={archived}>
      <div className="spine-band" aria-hidden="true" />
      <div className="spine-label">
        {isRenaming ? (
          <NewName name={name} onName={rename} onLeave={() => setRenaming(false)} />
        ) : (
          <h2>
            <Link href={addressOf.place(id, 'read')}>{name}</Link>
          </h2>
        )}
        <p className="spine-question">{question || texts.shelf.noQuestion}</p>
        <p className="pencil small">
          <time dateTime={updatedAt}>{dateWords(updatedAt)}</time>
        </p>
      </div>
      <div className="spine-answer">{seen && <SpineAnswer studyId={id} />}</div>
      <div className="spine-doings">
        <button type="button" className="button button-plain" onClick={() => setRenaming(true)}>
          {texts.shelf.rename}
          <span className="hidden-words">{name}</span>
        </button>
        <button type="button" className="button button-plain" onClick={() => archive(!archived)}>
          {archived ? texts.shelf.takeOut : texts.shelf.archive}
          <span className="hidden-words">{name}</span>
        </button>
      </div>
      <Problems error={error} />
    </li>
  )
}

function NewName({
  name,
  onName,
  onLeave,
}: {
  name: string
  onName: (typed: string) => void
  onLeave: () => void
}) {
  return (
    <DraftInput
      ref={useFocus<HTMLInputElement>()}
      aria-label={texts.shelf.nameOf(name)}
      value={name}
      maxLength={200}
      onCommit={onName}
      onLeave={onLeave}
    />
  )
}

const dateWords = (iso: string): string =>
  new Intl.DateTimeFormat(undefined, { dateStyle: 'long' }).format(new Date(iso))
