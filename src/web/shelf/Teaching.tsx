import { useState } from 'react'
import { useHashLocation } from 'wouter/use-hash-location'
import { addressOf } from '../app/places.ts'
import { useChange } from '../data/queries.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'

/** An empty shelf says what all this is for, and how to begin. */
export function Teaching() {
  const [, navigate] = useHashLocation()
  const [at, setAt] = useState<readonly [number, number] | null>(null)
  const demo = useChange(async backend => {
    const { fillDemo } = await import('./fillDemo.ts')
    return fillDemo(backend, (done, all) => setAt([done, all]))
  })
  return (
    <section className="shelf-teaching">
      <p>{texts.shelf.whatFor}</p>
      <ol>
        {texts.shelf.howTo.map(sentence => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ol>
      <p>{texts.shelf.demoWhat}</p>
      <div className="row">
        <button
          type="button"
          className="button"
          disabled={demo.isPending}
          onClick={() =>
            demo.mutateAsync(undefined).then(
              study => navigate(addressOf.place(study.id, 'compare')),
              () => {},
            )
          }
        >
          {texts.shelf.openDemo}
        </button>
        {demo.isPending && at && <progress value={at[0]} max={at[1]} aria-label={texts.shelf.demoLabel} />}
      </div>
      <Problems error={demo.error} />
    </section>
  )
}
