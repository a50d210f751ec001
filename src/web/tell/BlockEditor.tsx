import { useId } from 'react'
import { Link } from 'wouter'
import { keyOf, type PageBlock, type ToldPage } from '../../publish/study/page.ts'
import { addressOf } from '../app/places.ts'
import type { OpenStudy } from '../data/backend.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { METHOD_ID } from './ids.ts'
import { changed, folded } from './page.ts'
import { useStudyHere } from './told.tsx'
import { WordsField } from './WordsField.tsx'

const t = texts.tell

/** What can be written in a part: the maker's words, never the figures. */
export function BlockEditor({
  open,
  page,
  block,
  onChange,
  onRemove,
}: {
  open: OpenStudy
  page: ToldPage
  block: PageBlock
  onChange: (page: ToldPage) => void
  onRemove: () => void
}) {
  const id = useId()
  const keptAs = `tell.${open.study.id}.${keyOf(block)}`
  const put = (change: { readonly words?: string; readonly heading?: string }) =>
    onChange(changed(page, { ...block, ...change }))
  if (block.kind === 'own')
    return (
      <>
        <div className="field">
          <label htmlFor={id}>{t.heading}</label>
          <DraftInput id={id} value={block.heading} maxLength={200} onCommit={heading => put({ heading })} />
        </div>
        <WordsField
          label={t.words}
          hint={t.wordsHint}
          value={block.words}
          keptAs={keptAs}
          onCommit={words => put({ words })}
        />
        <button type="button" className="button" onClick={onRemove}>
          {t.remove}
        </button>
      </>
    )
  return (
    <>
      {block.part === 'method' ? (
        <Method open={open} />
      ) : (
        <WordsField
          label={t.wordsBefore}
          hint={t.wordsHint}
          value={block.words}
          keptAs={keptAs}
          onCommit={words => put({ words })}
        />
      )}
      {block.part === 'equivalents' && <Link href={addressOf.settings}>{t.weights}</Link>}
      {block.part === 'specimens' && <Shown open={open} page={page} onChange={onChange} />}
    </>
  )
}

function Method({
  open: {
    study: { id, method },
  },
}: {
  open: OpenStudy
}) {
  const { change, errorOf } = useStudyHere()
  return (
    <>
      <Problems error={errorOf('method')} />
      <WordsField
        id={METHOD_ID}
        label={t.method}
        hint={t.wordsHint}
        value={method}
        keptAs={`method.${id}`}
        rows={6}
        autoFocus
        onCommit={words => change({ method: words }, t.didMethod)}
      />
    </>
  )
}

/** Which specimens are shown one by one. */
function Shown({
  open,
  page,
  onChange,
}: {
  open: OpenStudy
  page: ToldPage
  onChange: (page: ToldPage) => void
}) {
  const read = new Set(open.readings.map(reading => reading.specimenId))
  return (
    <fieldset className="tell-which">
      <legend>{t.which}</legend>
      <p className="pencil small">{t.whichWhat}</p>
      {open.specimens
        .filter(one => read.has(one.id))
        .map(({ id, name }) => (
          <label key={id}>
            <input
              type="checkbox"
              checked={!page.folded.includes(name)}
              onChange={event => onChange(folded(page, name, !event.target.checked))}
            />{' '}
            {name}
          </label>
        ))}
    </fieldset>
  )
}
