import { useState, useSyncExternalStore } from 'react'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import type { DiskCopy } from './lineHost.ts'

const words = texts.pull.copy

/** A copy of each recording as a file, in a folder that the person chooses. */
export function CopyOnDisk({ copy }: { copy: DiskCopy }) {
  const state = useSyncExternalStore(copy.onState, () => copy.state)
  const [error, setError] = useState<unknown>(null)
  return (
    <div className="pull-copy small" data-copied={state?.file ?? ''}>
      <p className="pencil">{state === null ? words.what : words.into(state.folder)}</p>
      {state?.problem && (
        <p className="trouble" role="alert">
          <strong>{state.problem.where}:</strong> {state.problem.what} {state.problem.cure}
        </p>
      )}
      <button
        type="button"
        className="button"
        onClick={() => {
          setError(null)
          copy.choose().catch((fault: unknown) => {
            // Closing the browser’s own question is an answer.
            if (!(fault instanceof DOMException && fault.name === 'AbortError')) setError(fault)
          })
        }}
      >
        {state === null ? words.choose : words.another}
      </button>
      <Problems error={error} />
    </div>
  )
}
