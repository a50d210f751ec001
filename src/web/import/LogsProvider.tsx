import {
  createContext,
  type Dispatch,
  type ReactNode,
  type RefObject,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useReducer,
  useRef,
  useState,
} from 'react'
import { useHashLocation } from 'wouter/use-hash-location'
import { addressOf } from '../app/places.ts'
import { texts } from '../texts/index.ts'
import { droppedFiles } from './droppedFiles.ts'
import { type ImportAction, type ImportState, importState, NOTHING_DROPPED } from './importState.ts'
import { type Aside, useKeptDrops } from './kept/useKeptDrops.ts'
import type { TakenIn } from './takeIn.ts'
import './drop.css'

/** Where the taking in stands. */
export type Run =
  | { readonly state: 'not-begun' }
  | { readonly state: 'running'; readonly done: number; readonly all: number; readonly name: string }
  | { readonly state: 'ended'; readonly result: TakenIn }
  | { readonly state: 'failed'; readonly error: unknown }

interface Logs {
  readonly state: ImportState
  readonly dispatch: Dispatch<ImportAction>
  /** Lets the person choose files. */
  choose(): void
  /** Whether a reload would find all of it again. */
  readonly aside: Aside
  readonly run: Run
  setRun(run: Run): void
  /** True once the person has said stop. */
  readonly stopped: RefObject<boolean>
}

const LogsContext = createContext<Logs>({
  state: NOTHING_DROPPED,
  dispatch: () => {},
  choose: () => {},
  aside: { state: 'looking' },
  run: { state: 'not-begun' },
  setRun: () => {},
  stopped: { current: false },
})
export const useLogs = (): Logs => useContext(LogsContext)

/**
 * Takes files dropped anywhere on the page, pasted, or chosen (Ctrl+O), and goes to where they are looked at. What was
 * dropped stays here while the person walks through the app.
 */
export function LogsProvider({ children }: { children: ReactNode }) {
  const [state, dispatch] = useReducer(importState, NOTHING_DROPPED)
  const [location, navigate] = useHashLocation()
  const aside = useKeptDrops(state, dispatch)
  const [run, setRun] = useState<Run>({ state: 'not-begun' })
  const stopped = useRef(false)
  const chooser = useRef<HTMLInputElement>(null)
  const take = useCallback(
    (files: readonly File[]) => {
      if (files.length === 0) return
      dispatch({ type: 'dropped', files, studyId: /^\/study\/([^/]+)\//.exec(location)?.[1] ?? null })
      navigate(addressOf.import)
    },
    [location, navigate],
  )
  const choose = useCallback(() => chooser.current?.click(), [])
  const isOver = useDropped(take)
  usePasted(take)
  useChooseKey(choose)
  const logs = useMemo(
    () => ({ state, dispatch, choose, aside, run, setRun, stopped }),
    [state, choose, aside, run],
  )
  return (
    <LogsContext value={logs}>
      {children}
      <input
        ref={chooser}
        type="file"
        multiple
        hidden
        aria-label={texts.import.chooseLabel}
        onChange={event => {
          take([...(event.target.files ?? [])])
          event.target.value = ''
        }}
      />
      {isOver && <div className="drop-over">{texts.import.dropHere}</div>}
    </LogsContext>
  )
}

/** Files let go over the window; a part of the page that takes them itself says so by `preventDefault`. */
function useDropped(take: (files: readonly File[]) => void): boolean {
  const [isOver, setOver] = useState(false)
  useEffect(() => {
    const over = (event: DragEvent) => {
      if (event.defaultPrevented || !event.dataTransfer?.types.includes('Files')) return
      event.preventDefault()
      event.dataTransfer.dropEffect = 'copy'
      setOver(true)
    }
    const left = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false)
    }
    const dropped = (event: DragEvent) => {
      setOver(false)
      if (event.defaultPrevented || !event.dataTransfer?.types.includes('Files')) return
      event.preventDefault()
      void droppedFiles(event.dataTransfer).then(take)
    }
    addEventListener('dragover', over)
    addEventListener('dragleave', left)
    addEventListener('drop', dropped)
    return () => {
      removeEventListener('dragover', over)
      removeEventListener('dragleave', left)
      removeEventListener('drop', dropped)
    }
  }, [take])
  return isOver
}

const isWriting = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.matches('input, textarea, select, [contenteditable]')

/** Copied files, or the lines of a log; what is pasted into a field belongs to the field. */
function usePasted(take: (files: readonly File[]) => void): void {
  const pastes = useRef(0)
  useEffect(() => {
    const pasted = (event: ClipboardEvent) => {
      if (event.defaultPrevented || isWriting(event.target) || !event.clipboardData) return
      const files = [...event.clipboardData.files]
      const text = event.clipboardData.getData('text/plain')
      const isLog = /\d[^\n]*\n[^\n]*\d[^\n]*\n[^\n]*\d/.test(text)
      if (files.length === 0 && !isLog) return
      event.preventDefault()
      if (files.length > 0) take(files)
      else {
        pastes.current++
        take([new File([text], texts.import.pasted(pastes.current), { type: 'text/plain', lastModified: 0 })])
      }
    }
    addEventListener('paste', pasted)
    return () => removeEventListener('paste', pasted)
  }, [take])
}

/** Ctrl+O opens logs, as it opens files elsewhere. */
function useChooseKey(choose: () => void): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey) return
      if (event.key.toLowerCase() !== 'o') return
      event.preventDefault()
      choose()
    }
    addEventListener('keydown', pressed)
    return () => removeEventListener('keydown', pressed)
  }, [choose])
}
