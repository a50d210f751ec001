import { type CSSProperties, useId } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { texts } from '../texts/index.ts'
import type { Checklist, Slot } from './checklist.ts'

const t = texts.plan

/** The order of pulling as a checklist, a block a line; it prints on one page. */
export function OrderList({
  checklist,
  seed,
  studyId,
  onTakeOut,
  onNewOrder,
}: {
  checklist: Checklist
  seed: number
  studyId: string
  /** Takes out what has no place in the order; `null` while places are to be filled first. */
  onTakeOut: (() => void) | null
  /** `null` once something has been pulled: the order is then no longer for choosing. */
  onNewOrder: (() => void) | null
}) {
  const id = useId()
  // Each block has its specimens in the same columns.
  const longest = Math.max(0, ...checklist.blocks.flat().map(slot => nameOf(slot).length))
  return (
    <section aria-labelledby={id} className="plan-order" data-many={checklist.all > 60}>
      <h2 id={id}>{t.order}</h2>
      <p className="pencil">{t.orderWhat(seed, checklist.pulled, checklist.all)}</p>
      {checklist.all === 0 && <p className="warning">{t.noOrder}</p>}
      <ol className="plan-blocks" style={{ '--plan-name': `${longest}ch` } as CSSProperties}>
        {checklist.blocks.map((block, i) => (
          <li key={block[0]?.label ?? i}>
            <ul className="plain-list plan-block">
              {block.map(slot => (
                <SlotMark key={slot.label} slot={slot} studyId={studyId} />
              ))}
            </ul>
          </li>
        ))}
      </ol>
      {onTakeOut && checklist.surplus.length > 0 && (
        <p className="not-printed">
          {t.surplus(checklist.surplus.length)}{' '}
          <button type="button" className="button" onClick={onTakeOut}>
            {t.takeOut(checklist.surplus.length)}
          </button>
        </p>
      )}
      <div className="row not-printed">
        <button type="button" className="button" onClick={() => print()}>
          {t.print}
        </button>
        {onNewOrder && (
          <button type="button" className="button button-plain" onClick={onNewOrder}>
            {t.newOrder}
          </button>
        )}
      </div>
    </section>
  )
}

const nameOf = ({ label, specimen }: Slot): string => specimen?.name ?? label

function SlotMark({ slot, studyId }: { slot: Slot; studyId: string }) {
  const { specimen, state } = slot
  const name = nameOf(slot)
  return (
    <li className="plan-slot" data-state={state}>
      <span className="plan-box" aria-hidden="true">
        {state === 'pulled' ? '✓' : state === 'left-out' ? '–' : ''}
      </span>
      {specimen && state !== 'planned' ? (
        <Link href={addressOf.specimen(studyId, specimen.id)}>{name}</Link>
      ) : (
        <span>{name}</span>
      )}
      <span className="hidden-words">{t.slotState[state]}</span>
    </li>
  )
}
