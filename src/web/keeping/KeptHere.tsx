import { useQuery } from '@tanstack/react-query'
import { useRef } from 'react'
import { useBench } from '../app/context.tsx'
import { useFoot } from '../app/undo.tsx'
import { KEYS, useChange } from '../data/queries.ts'
import { Problems } from '../parts/Problems.tsx'
import { saveFile } from '../tell/saveFile.ts'
import { texts } from '../texts/index.ts'
import { unsavedCount } from './unsavedCount.ts'

const t = texts.keeping

/**
 * Where studies lie in the browser alone: what it may delete, in plain words; whether it promised to keep them; how many
 * recordings are in no file yet, until they are saved as one.
 */
export function KeptHere() {
  const { backend } = useBench()
  return backend.whole ? <Keeping whole={backend.whole} /> : null
}

type Whole = NonNullable<ReturnType<typeof useBench>['backend']['whole']>

function Keeping({ whole }: { whole: Whole }) {
  const foot = useFoot()
  const file = useRef<HTMLInputElement>(null)
  const unsaved = useUnsavedCount(whole)
  const { data: isPromised = false, refetch } = useQuery({
    queryKey: ['kept for good'],
    queryFn: async () => (await navigator.storage?.persisted?.()) ?? false,
  })
  const saving = useSaving(whole)
  const taking = useChange<File, string>(async (_, given) => {
    const { added, known, renamed, leftBehind } = await whole.take(given)
    return t.taken(added, known, renamed, leftBehind)
  })
  return (
    <section className="shelf-keeping" aria-labelledby="keeping" data-unsaved={unsaved > 0}>
      <h2 id="keeping">{t.heading}</h2>
      <p>{isPromised ? t.promised : t.notPromised}</p>
      {unsaved > 0 && (
        <p className="trouble" role="status">
          {t.unsaved(unsaved)}
        </p>
      )}
      <div className="row">
        <button
          type="button"
          className={unsaved > 0 ? 'button button-main' : 'button'}
          disabled={saving.isPending}
          onClick={saving.save}
        >
          {t.save}
        </button>
        <button
          type="button"
          className="button"
          disabled={taking.isPending}
          onClick={() => file.current?.click()}
        >
          {t.take}
        </button>
        <input
          ref={file}
          type="file"
          hidden
          aria-label={t.take}
          onChange={event => {
            const [given] = event.currentTarget.files ?? []
            event.currentTarget.value = ''
            if (given) taking.mutate(given, { onSuccess: said => foot.say(said) })
          }}
        />
        {!isPromised && (
          <button
            type="button"
            className="button"
            onClick={() => void navigator.storage?.persist?.().then(() => refetch())}
          >
            {t.ask}
          </button>
        )}
      </div>
      <Problems error={saving.error ?? taking.error} />
    </section>
  )
}

/** Hands all that is here to the browser as one file. */
function useSaving(whole: Whole) {
  const foot = useFoot()
  const { mutate, isPending, error } = useChange<null, void>(async () => {
    saveFile(t.fileName(new Date().toISOString().slice(0, 10)), await whole.save())
  })
  return { isPending, error, save: () => mutate(null, { onSuccess: () => foot.say(t.saved) }) }
}

/** Recordings that are in no saved file yet. */
function useUnsavedCount(whole: Whole): number {
  const { backend } = useBench()
  const { data = 0 } = useQuery({
    queryKey: [...KEYS.recordings, 'unsaved'],
    queryFn: () => unsavedCount(backend, whole),
  })
  return data
}

/** After a pull: the same in one line, with the one button. */
export function SaveReminder() {
  const { backend } = useBench()
  return backend.whole ? <Reminder whole={backend.whole} /> : null
}

function Reminder({ whole }: { whole: Whole }) {
  const unsaved = useUnsavedCount(whole)
  const saving = useSaving(whole)
  if (unsaved === 0) return null
  return (
    <p className="pull-save small">
      {t.unsaved(unsaved)}{' '}
      <button type="button" className="button" disabled={saving.isPending} onClick={saving.save}>
        {t.save}
      </button>
      <Problems error={saving.error} />
    </p>
  )
}
