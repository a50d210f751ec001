import { useLayoutEffect, useRef, useState } from 'react'
import { keyOf, type PageBlock, type ToldPage } from '../../publish/study/page.ts'
import type { OpenStudy } from '../data/backend.ts'
import { Answered } from '../parts/Answered.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { BlockEditor } from './BlockEditor.tsx'
import { BlockLine } from './BlockLine.tsx'
import { BLOCKS_ID } from './ids.ts'
import { changed, moved, withOwn, without } from './page.ts'
import { useStudyHere } from './told.tsx'
import { useDragging } from './useDragging.ts'
import type { KeptPage } from './usePage.ts'

const t = texts.tell

const headingOf = (block: PageBlock): string =>
  block.kind === 'part' ? t.parts[block.part] : block.heading.trim() || t.ownHeading

/** The parts of the page as lines: moved, left out, and opened to be written in. */
export function PageBlocks({
  open,
  kept,
  opened,
  onOpen,
}: {
  open: OpenStudy
  kept: KeptPage
  /** Key of the block that is written in. */
  opened: string | null
  onOpen: (key: string | null) => void
}) {
  const { page, keep } = kept
  const { errorOf } = useStudyHere()
  const list = useRef<HTMLOListElement>(null)
  const [focused, setFocused] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const move = (block: PageBlock, to: number) => {
    const next = moved(page, keyOf(block), to)
    const at = next.blocks.findIndex(one => keyOf(one) === keyOf(block))
    setSaid(t.place(headingOf(block), at + 1, next.blocks.length))
    keep(next, t.didMove(headingOf(block)))
  }
  const { order, dragged, handle } = useDragging(page.blocks.map(keyOf), (key, to) => {
    const block = page.blocks.find(one => keyOf(one) === key)
    if (block) move(block, to)
  })
  // A button whose line was moved loses the focus with it.
  useLayoutEffect(() => {
    if (focused === null) return
    list.current?.querySelector<HTMLElement>(`[data-focus="${focused}"]`)?.focus()
    setFocused(null)
  }, [focused])
  const add = () => {
    const { page: next, block } = withOwn(page, t.newHeading)
    keep(next, t.didAdd)
    onOpen(keyOf(block))
  }
  const blocks = order.flatMap(key => page.blocks.filter(block => keyOf(block) === key))
  return (
    <Answered
      id={BLOCKS_ID}
      heading={t.blocks}
      answer={t.soManyParts(page.blocks.filter(({ shown }) => shown).length, page.blocks.length)}
      isAsked={opened !== null}
    >
      <p className="pencil small">{t.blocksWhat}</p>
      <Problems error={errorOf('tell')} />
      <p className="hidden-words" role="status">
        {said}
      </p>
      <ol className="plain-list tell-blocks" ref={list}>
        {blocks.map((block, at) => {
          const key = keyOf(block)
          const heading = headingOf(block)
          return (
            <BlockLine
              key={key}
              block={block}
              heading={heading}
              isFirst={at === 0}
              isLast={at === blocks.length - 1}
              isDragged={dragged === key}
              isOpen={opened === key}
              handle={handle(key)}
              onMove={(by, focus) => {
                move(block, at + by)
                setFocused(focus)
              }}
              onShow={shown => keep(changed(page, { ...block, shown }), t.didShow(heading, shown))}
              onOpen={() => onOpen(opened === key ? null : key)}
            >
              <BlockEditor
                open={open}
                page={page}
                block={block}
                onChange={(next: ToldPage) => keep(next, t.didWords(heading))}
                onRemove={() => {
                  onOpen(null)
                  keep(without(page, key), t.didRemove(heading))
                }}
              />
            </BlockLine>
          )
        })}
      </ol>
      <button type="button" className="button" onClick={add}>
        {t.add}
      </button>
    </Answered>
  )
}
