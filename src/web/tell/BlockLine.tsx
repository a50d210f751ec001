import type { HTMLAttributes, ReactNode } from 'react'
import { isAlwaysShown, keyOf, type PageBlock } from '../../publish/study/page.ts'
import { texts } from '../texts/index.ts'

const t = texts.tell

/** A part of the page as a line; opened, what can be written in it stands beneath. */
export function BlockLine({
  block,
  heading,
  isFirst,
  isLast,
  isDragged,
  isOpen,
  handle,
  onMove,
  onShow,
  onOpen,
  children,
}: {
  block: PageBlock
  heading: string
  isFirst: boolean
  isLast: boolean
  isDragged: boolean
  isOpen: boolean
  handle: HTMLAttributes<HTMLElement>
  /** `focus` names what has the focus again after the move. */
  onMove: (by: 1 | -1, focus: string) => void
  onShow: (shown: boolean) => void
  onOpen: () => void
  children: ReactNode
}) {
  const key = keyOf(block)
  const stays = isAlwaysShown(block)
  return (
    <li
      className="tell-block"
      data-line={key}
      data-dragged={isDragged}
      data-shown={block.shown}
      aria-label={heading}
    >
      <div className="tell-block-line">
        <span className="tell-handle" title={t.drag(heading)} aria-hidden="true" {...handle}>
          ⠿
        </span>
        <label className="tell-block-name" title={stays ? t.careStays : undefined}>
          <input
            type="checkbox"
            checked={block.shown}
            disabled={stays}
            aria-label={t.show(heading)}
            onChange={event => onShow(event.target.checked)}
          />
          <span>{heading}</span>
        </label>
        <span className="tell-block-buttons">
          <button
            type="button"
            className="button tell-small"
            data-focus={`${key}-up`}
            aria-label={t.up(heading)}
            disabled={isFirst}
            onClick={() => onMove(-1, `${key}-up`)}
          >
            ↑
          </button>
          <button
            type="button"
            className="button tell-small"
            data-focus={`${key}-down`}
            aria-label={t.down(heading)}
            disabled={isLast}
            onClick={() => onMove(1, `${key}-down`)}
          >
            ↓
          </button>
          <button
            type="button"
            className="button tell-small"
            aria-expanded={isOpen}
            aria-label={isOpen ? undefined : t.editOf(heading)}
            onClick={onOpen}
          >
            {isOpen ? t.close : t.edit}
          </button>
        </span>
      </div>
      {stays && <p className="pencil small">{t.careStays}</p>}
      {isOpen && <div className="tell-editor">{children}</div>}
    </li>
  )
}
