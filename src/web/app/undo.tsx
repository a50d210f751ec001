import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import { createPortal } from 'react-dom'
import { useHashLocation } from 'wouter/use-hash-location'
import { faultText } from '../../core/problem.ts'
import { texts } from '../texts/index.ts'
import { placeIn } from './places.ts'

/** Something that was done and can be taken back. */
interface Done {
  readonly text: string
  /** The place in which it was done. */
  readonly place: string
  readonly undo: () => Promise<unknown>
}

interface Foot {
  /** Tells what was done, with the way back. */
  did(text: string, undo: () => Promise<unknown>): void
  /** Says something that needs no answer. */
  say(text: string): void
}

const FootContext = createContext<Foot>({ did: () => {}, say: () => {} })
export const useFoot = (): Foot => useContext(FootContext)

const SlotContext = createContext<(slot: HTMLElement | null) => void>(() => {})

/** Where a place wants the line to stand, in the midst of its page, instead of at the foot of the window. */
export function FootSlot() {
  return <div className="foot-slot" ref={useContext(SlotContext)} aria-live="polite" />
}

const SAID_MS = 4000
/** What was done withdraws after this; the key for undo takes it back all the same, for as long as its place is open. */
const DONE_MS = 15_000

/**
 * The line at the foot of the window, or in the slot of its place. It belongs to the place where it arose and withdraws by itself, but not from under a
 * pointer or the focus; what was done can be taken back by key until its place is left.
 */
export function FootProvider({ children }: { children: ReactNode }) {
  const [done, setDone] = useState<Done | null>(null)
  const [said, setSaid] = useState<string | null>(null)
  const [address] = useHashLocation()
  const place = useRef(placeIn(address))
  const line = useRef<HTMLDivElement>(null)
  const [slot, setSlot] = useState<HTMLElement | null>(null)
  const [isShown, setShown] = useState(true)
  const foot = useMemo<Foot>(
    () => ({
      did: (text, undo) => {
        setSaid(null)
        setShown(true)
        setDone({ text, undo, place: place.current })
      },
      say: setSaid,
    }),
    [],
  )
  const takeBack = useCallback(() => {
    if (!done) return
    setDone(null)
    done.undo().then(
      () => setSaid(texts.app.undone),
      (error: unknown) => setSaid(faultText(error)),
    )
  }, [done])
  useUndoKey(takeBack)
  useEffect(() => {
    place.current = placeIn(address)
    setSaid(null)
    setDone(was => (was !== null && was.place !== place.current ? null : was))
  }, [address])
  useEffect(() => {
    if (said === null) return
    const timer = setTimeout(() => setSaid(null), SAID_MS)
    return () => clearTimeout(timer)
  }, [said])
  useEffect(() => {
    if (done === null) return
    const timer = setInterval(() => {
      if (!line.current?.matches(':hover, :focus-within')) setShown(false)
    }, DONE_MS)
    return () => clearInterval(timer)
  }, [done])
  const text = said ?? (isShown ? done?.text : undefined)
  const isDocked = text !== undefined && slot === null
  useEffect(() => {
    if (isDocked && line.current) clearOf(line.current)
  }, [isDocked])
  const shown = text !== undefined && (
    <div ref={line} className="foot-line">
      <span>{text}</span>
      {said === null && done && (
        <span className="row">
          <button type="button" className="button" onClick={takeBack}>
            {texts.app.undo}
          </button>
          <button type="button" className="button button-plain" onClick={() => setDone(null)}>
            {texts.app.close}
          </button>
        </span>
      )}
    </div>
  )
  return (
    <FootContext value={foot}>
      <SlotContext value={setSlot}>{children}</SlotContext>
      {slot !== null && createPortal(shown, slot)}
      <div className="foot-dock" aria-live="polite">
        {slot === null && shown}
      </div>
    </FootContext>
  )
}

/** What the line must not take from sight. */
const NEVER_UNDER =
  'main .curve, main svg, main canvas, main li, main tr, main button, main a, main input, main select'

/**
 * The page moves up by as much as the line at the foot of the window would take of a curve, an event or a button from
 * sight; what was pressed or written in just now stays in sight.
 */
function clearOf(line: HTMLElement): void {
  const active = document.activeElement
  if (active !== document.body) active?.scrollIntoView({ block: 'nearest' })
  const { top, bottom } = line.getBoundingClientRect()
  const taken = [...document.querySelectorAll(NEVER_UNDER)].reduce((most, element) => {
    const box = element.getBoundingClientRect()
    const isUnder = box.height > 0 && box.bottom > top && box.top < bottom
    return isUnder ? Math.max(most, Math.min(box.bottom, bottom) - top) : most
  }, 0)
  const room = active === null || active === document.body ? taken : active.getBoundingClientRect().top
  window.scrollBy({ top: Math.max(0, Math.min(taken, room)) })
}

/** Ctrl+Z takes the last thing back, except while writing: there it belongs to the text. */
function useUndoKey(takeBack: () => void): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.key.toLowerCase() !== 'z') return
      if (event.target instanceof HTMLElement && event.target.matches('input, textarea, [contenteditable]'))
        return
      event.preventDefault()
      takeBack()
    }
    addEventListener('keydown', pressed)
    return () => removeEventListener('keydown', pressed)
  }, [takeBack])
}
