import { type FormEvent, useState } from 'react'
import type { Unsaved as UnsavedRecording } from '../../server/apiTypes.ts'
import { askJson } from '../data/http.ts'
import { useLiveState } from '../live/useLive.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'

const words = texts.pull.unsaved

/** Recordings that have ended and are not in the store: why, and what can be done about it. */
export function Unsaved() {
  const { unsaved } = useLiveState()
  return unsaved.map(one => <UnsavedOne key={one.recordingId} one={one} />)
}

function UnsavedOne({ one }: { one: UnsavedRecording }) {
  const { recordingId, specimen, samples, keptIn, problem } = one
  const [folder, setFolder] = useState('')
  const [refused, setRefused] = useState<unknown>(null)
  const ask = (what: string, body?: unknown): void => {
    setRefused(null)
    askJson(`/api/waiting${what}`, { method: 'POST', ...(body !== undefined && { body }) }).catch(setRefused)
  }
  const move = (event: FormEvent): void => {
    event.preventDefault()
    if (folder.trim() !== '') ask(`/${recordingId}/folder`, { folder: folder.trim() })
  }
  const id = `unsaved-${recordingId}`
  return (
    <section className="trouble pull-unsaved" role="alert" aria-labelledby={id} data-kept={keptIn}>
      <h2 id={id}>{words.heading[keptIn](specimen ?? words.unnamed, samples)}</h2>
      <p>
        <strong>{problem.where}:</strong> {problem.what} {problem.cure}
      </p>
      <Problems error={refused} />
      <div className="row">
        <button type="button" className="button" onClick={() => ask('/try')}>
          {words.tryNow}
        </button>
        <a
          className="button"
          href={`/api/waiting/${recordingId}/journal`}
          download={`${recordingId}.journal`}
        >
          {words.saveFile}
        </a>
      </div>
      <form className="row" onSubmit={move}>
        <label htmlFor={`${id}-folder`}>{words.otherFolder}</label>
        <input
          id={`${id}-folder`}
          className="input"
          value={folder}
          autoComplete="off"
          spellCheck={false}
          onChange={event => setFolder(event.target.value)}
        />
        <button type="submit" className="button">
          {words.keepThere}
        </button>
      </form>
    </section>
  )
}
