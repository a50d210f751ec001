import { useId, useState } from 'react'
import type { Specimen, Variant } from '../../server/apiTypes.ts'
import { useSettings } from '../app/settings.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useChange } from '../data/queries.ts'
import { DraftInput } from '../parts/DraftInput.tsx'
import { Problems } from '../parts/Problems.tsx'
import { recordedIds } from '../read/order.ts'
import { texts } from '../texts/index.ts'
import type { Pull } from './usePull.ts'
import { inPullingOrder, nextName } from './whoIsNext.ts'

const words = texts.pull

/** The order of the plan, ticked off as it goes; another can be taken first, and one more can be added. */
export function WhoIsNext({ open, pull }: { open: OpenStudy; pull: Pull }) {
  const recorded = recordedIds(open)
  const order = inPullingOrder(open)
  const adding = useChange<Variant | null, Specimen>((backend, variant) =>
    backend.specimens.create(open.study.id, {
      name: nextName(variant?.name ?? null, open.specimens, words.specimen),
      variantId: variant?.id ?? null,
    }),
  )
  const [isOpen, setOpen] = useState(false)
  const add = (variant: Variant | null) =>
    adding.mutate(variant, { onSuccess: specimen => pull.choose(specimen.id) })
  const canChoose = !pull.isInHand
  return (
    <section aria-labelledby="pull-order">
      <h2 id="pull-order">{words.whoHeading}</h2>
      <p className="pencil">{words.whoLeft(pull.left.length)}</p>
      <ol className="plain-list pull-order" data-all={isOpen}>
        {order.map(({ id, name, status }) => {
          const isDone = recorded.has(id)
          const isNow = id === pull.specimen?.id
          return (
            <li key={id} data-done={isDone} data-now={isNow}>
              <button
                type="button"
                className="button button-plain"
                disabled={!canChoose || status === 'left-out'}
                aria-current={isNow ? 'true' : undefined}
                onClick={() => pull.choose(id)}
              >
                <span aria-hidden="true">{isDone ? '✓' : isNow ? '▸' : '·'}</span> {name}
                {isDone && <span className="hidden-words"> {texts.app.done}</span>}
                {isNow && <span className="hidden-words"> {words.whoNow}</span>}
                {status === 'left-out' && <span className="pencil small"> {texts.read.isLeftOut}</span>}
              </button>
            </li>
          )
        })}
      </ol>
      <Problems error={adding.error} />
      <WhoPulls isSet={!pull.isInHand} />
      <details open={isOpen} onToggle={event => setOpen(event.currentTarget.open)}>
        <summary>{words.addSpecimen}</summary>
        <div className="row pull-add">
          {open.variants.map(variant => (
            <button
              key={variant.id}
              type="button"
              className="button"
              disabled={adding.isPending}
              onClick={() => add(variant)}
            >
              {words.addOf(variant.name)}
            </button>
          ))}
          {open.variants.length === 0 && (
            <button type="button" className="button" disabled={adding.isPending} onClick={() => add(null)}>
              {words.addSpecimen}
            </button>
          )}
        </div>
      </details>
    </section>
  )
}

/** Whose name goes with the next recording: the one of Settings, seen and changed here. */
function WhoPulls({ isSet }: { isSet: boolean }) {
  const id = useId()
  const { settings, choose } = useSettings()
  return (
    <div className="field pull-who">
      <label htmlFor={id}>{words.whoPulls}</label>
      <DraftInput
        id={id}
        value={settings.operator}
        maxLength={200}
        autoComplete="off"
        enterKeyHint="done"
        disabled={!isSet}
        aria-describedby={`${id}-why`}
        onCommit={operator => choose({ operator: operator.trim() })}
        onLeave={() => {
          // Space goes on with the pull again.
          if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
        }}
      />
      <p className="pencil small" id={`${id}-why`}>
        {settings.operator === '' ? words.whoPullsNobody : words.whoPullsWhy}
      </p>
    </div>
  )
}
