import { useId, useState } from 'react'
import type { Rig } from '../../server/apiTypes.ts'
import { useChange } from '../data/queries.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Needed } from '../parts/Needed.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import type { BenchRig } from './useBenchRig.ts'
import type { RigChange } from './useRigChange.ts'

const t = texts.rig
export const NEW_RIG_ID = 'rig-new'

/** Which rig stands on the bench, by its name, and a new one. */
export function RigChoice({ bench, change }: { bench: BenchRig; change: RigChange['change'] }) {
  const id = useId()
  const [name, setName] = useState('')
  const making = useChange<string, Rig>((backend, called) =>
    backend.rigs.create({
      name: called,
      document: { document: 'tenterhook.rig', version: 1, name: called },
    }),
  )
  const { kept, rigs } = bench
  const form = (
    <form
      className="row"
      onSubmit={event => {
        event.preventDefault()
        const called = name.trim()
        if (called !== '')
          making.mutate(called, {
            onSuccess(rig) {
              setName('')
              bench.choose({ rigId: rig.id })
            },
          })
      }}
    >
      <label htmlFor={NEW_RIG_ID}>{kept ? t.anotherRig : t.newRig}</label>
      <Needed />
      <input
        id={NEW_RIG_ID}
        required
        className="input rig-name"
        value={name}
        maxLength={200}
        placeholder={kept ? '' : t.newRigHint}
        onChange={event => setName(event.target.value)}
      />
      <button type="submit" className="button" disabled={making.isPending}>
        {t.makeRig}
      </button>
    </form>
  )
  return (
    <>
      {kept ? (
        <>
          <h1>
            <DraftInput
              className="rig-heading"
              aria-label={t.rigName}
              maxLength={200}
              value={kept.name}
              onCommit={text => {
                const called = text.trim()
                if (called !== '')
                  void change(
                    kept,
                    now => ({ name: called, document: { ...(now.document as object), name: called } }),
                    t.didRename(called),
                  )
              }}
            />
          </h1>
          <details className="rig-others">
            <summary>{t.otherRigs}</summary>
            {rigs.length > 1 && (
              <div className="field rig-narrow">
                <label htmlFor={id}>{t.onBench}</label>
                <select
                  id={id}
                  className="input"
                  value={kept.id}
                  onChange={event => bench.choose({ rigId: event.target.value })}
                >
                  {rigs.map(rig => (
                    <option key={rig.id} value={rig.id}>
                      {rig.name}
                    </option>
                  ))}
                </select>
              </div>
            )}
            {form}
          </details>
        </>
      ) : (
        <>
          <h1>{t.heading}</h1>
          {form}
        </>
      )}
      <Problems error={making.error} />
    </>
  )
}
