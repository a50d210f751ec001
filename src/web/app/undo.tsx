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
import { useHashLocation } from 'wouter/use-hash-location'
import { faultText } from '../../core/problem.ts'
import { texts } from '../texts/index.ts'
import { studyIn } from './places.ts'

/** Something that was done and can be taken back. */
interface Done {
  readonly text: string
  /** The study in which it was done; `null` outside of any. */
  readonly studyId: string | null
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

const SAID_MS = 4000

/**
 * The line at the foot of the page. What was done stays there until something else is, so that no haste is needed, or
 * until its study is left; what was only said goes with its place.
 */
export function FootProvider({ children }: { children: ReactNode }) {
  const [done, setDone] = useState<Done | null>(null)
  const [said, setSaid] = useState<string | null>(null)
  const [address] = useHashLocation()
  const studyId = useRef(studyIn(address))
  const foot = useMemo<Foot>(
    () => ({
      did: (text, undo) => {
        setSaid(null)
        setDone({ text, undo, studyId: studyId.current })
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
    studyId.current = studyIn(address)
    setSaid(null)
    setDone(was => (was?.studyId && was.studyId !== studyId.current ? null : was))
  }, [address])
  useEffect(() => {
    if (said === null) return
    const timer = setTimeout(() => setSaid(null), SAID_MS)
    return () => clearTimeout(timer)
  }, [said])
  return (
    <FootContext value={foot}>
      {children}
      <div aria-live="polite">
        {(said ?? done?.text) !== undefined && (
          <div className="foot-line">
            <span>{said ?? done?.text}</span>
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
        )}
      </div>
    </FootContext>
  )
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
