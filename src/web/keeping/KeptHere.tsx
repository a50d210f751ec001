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

/** Where studies lie, and all of them as one file: out and in. */
export function KeptHere() {
  const { backend } = useBench()
  const { savedAt } = backend.whole
  return savedAt === null ? <InStore /> : <InBrowser savedAt={savedAt} />
}

type SavedAt = () => Promise<string | null>

/**
 * Where they lie in the browser alone: what it may delete, in plain words; whether it promised to keep them; how many
 * recordings are in no file yet.
 */
function InBrowser({ savedAt }: { savedAt: SavedAt }) {
  const unsaved = useUnsavedCount(savedAt)
  const { data: isPromised = false, refetch } = useQuery({
    queryKey: ['kept for good'],
    queryFn: async () => (await navigator.storage?.persisted?.()) ?? false,
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
      <SaveAndTake isWanted={unsaved > 0}>
        {!isPromised && (
          <button
            type="button"
            className="button"
            onClick={() => void navigator.storage?.persist?.().then(() => refetch())}
          >
            {t.ask}
          </button>
        )}
      </SaveAndTake>
    </section>
  )
}

/** Where they lie in the store of a server. */
function InStore() {
  const { backend } = useBench()
  const { data: about } = useQuery({ queryKey: ['about'], queryFn: () => backend.about() })
  return (
    <section className="shelf-keeping" aria-labelledby="keeping">
      <h2 id="keeping">{t.storeHeading}</h2>
      <p>{t.inStore(about?.store ?? '')}</p>
      <SaveAndTake isWanted={false} />
    </section>
  )
}

/** `isWanted`: something is in no file yet. `children`: what else may be pressed. */
function SaveAndTake({ isWanted, children }: { isWanted: boolean; children?: React.ReactNode }) {
  const { backend } = useBench()
  const foot = useFoot()
  const file = useRef<HTMLInputElement>(null)
  const saving = useSaving()
  const taking = useChange<File, string>(async (_, given) => {
    const { added, known, renamed } = await backend.whole.take(given)
    return t.taken(added, known, renamed)
  })
  return (
    <>
      <div className="row">
        <button
          type="button"
          className={isWanted ? 'button button-main' : 'button'}
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
        {children}
      </div>
      <Problems error={saving.error ?? taking.error} />
    </>
  )
}

/** Hands all that is here to the browser as one file. */
function useSaving() {
  const foot = useFoot()
  const { mutate, isPending, error } = useChange<null, void>(async ({ whole }) => {
    saveFile(t.fileName(new Date().toISOString().slice(0, 10)), await whole.save())
  })
  return { isPending, error, save: () => mutate(null, { onSuccess: () => foot.say(t.saved) }) }
}

/** Recordings that are in no saved file yet. */
function useUnsavedCount(savedAt: SavedAt): number {
  const { backend } = useBench()
  const { data = 0 } = useQuery({
    queryKey: [...KEYS.recordings, 'unsaved'],
    queryFn: () => unsavedCount(backend, savedAt),
  })
  return data
}

/** After a pull: the same in one line, with the one button. */
export function SaveReminder() {
  const { backend } = useBench()
  const { savedAt } = backend.whole
  return savedAt && <Reminder savedAt={savedAt} />
}

function Reminder({ savedAt }: { savedAt: SavedAt }) {
  const unsaved = useUnsavedCount(savedAt)
  const saving = useSaving()
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
