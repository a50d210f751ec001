import { type FormEvent, useState } from 'react'
import type { Unsaved as UnsavedRecording } from '../../server/apiTypes.ts'
import { useLine, useLiveState } from '../live/useLive.tsx'
import { Needed } from '../parts/Needed.tsx'
import { Problems } from '../parts/Problems.tsx'
import { saveFile } from '../tell/saveFile.ts'
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
  const host = useLine().unsaved
  const ask = (work: () => Promise<unknown>): void => {
    setRefused(null)
    work().catch(setRefused)
  }
  const move = (event: FormEvent): void => {
    event.preventDefault()
    const where = folder.trim()
    if (where !== '') ask(async () => host.keepIn?.(recordingId, where))
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
        <button type="button" className="button" onClick={() => ask(() => host.tryNow())}>
          {words.tryNow}
        </button>
        <button
          type="button"
          className="button"
          onClick={() => ask(async () => saveFile(`${recordingId}.journal`, await host.journal(recordingId)))}
        >
          {words.saveFile}
        </button>
      </div>
      <form className="row" hidden={host.keepIn === null} onSubmit={move}>
        <label htmlFor={`${id}-folder`}>{words.otherFolder}</label>
        <Needed />
        <input
          id={`${id}-folder`}
          required
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
