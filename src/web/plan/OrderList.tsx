import type { CSSProperties } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { Answered } from '../parts/Answered.tsx'
import { texts } from '../texts/index.ts'
import type { Checklist, Slot } from './checklist.ts'

const t = texts.plan
/** With more the printed list is set closer. */
const MANY = 60

/** The order of pulling as a checklist, a block a line; it prints on one page. */
export function OrderList({
  checklist,
  seed,
  studyId,
  isAsked,
  onTakeOut,
  onNewOrder,
}: {
  checklist: Checklist
  seed: number
  studyId: string
  isAsked: boolean
  /** Takes out what has no place in the order; `null` while places are to be filled first. */
  onTakeOut: (() => void) | null
  /** `null` once something has been pulled: the order is then no longer for choosing. */
  onNewOrder: (() => void) | null
}) {
  // Each block has its specimens in the same columns.
  const longest = Math.max(0, ...checklist.blocks.flat().map(slot => nameOf(slot).length))
  return (
    <Answered
      heading={t.order}
      answer={t.pulledOf(checklist.pulled, checklist.all)}
      isAsked={isAsked}
      className={checklist.all > MANY ? 'plan-order plan-order-many' : 'plan-order'}
    >
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
    </Answered>
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
