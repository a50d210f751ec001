import { useEffect, useRef, useState } from 'react'
import type { Key } from './moments.ts'

/** So long a key must be kept down to give up. */
export const HOLD_MS = 1_000

export interface KeyActs {
  onKey(key: Key): void
  /** A digit from 1 on. */
  onDigit(digit: number): void
  onSound(): void
  onRoom(): void
}

/** Keys that mean something here already and cannot be a foot switch's. */
export const OWN_KEYS = ['Escape', 'Tab', 'Shift', 'Control', 'Alt', 'Meta', ...'ntzsrxpma123456789']

const LETTERS: Readonly<Record<string, Key>> = {
  n: 'note',
  z: 'zero',
  s: 'speak',
  r: 'redo',
  x: 'spoil',
  p: 'pull-on',
}

/**
 * Listens to the keyboard for as long as the place is open. Space drives the pull wherever the focus is, but for fields
 * that are written in and for buttons that were reached with the Tab key. Tells whether Escape is being kept down.
 */
export function usePullKeys(acts: KeyActs, footKey: string | null): boolean {
  const latest = useRef(acts)
  latest.current = acts
  const [isHolding, setHolding] = useState(false)
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | null = null
    const letGo = () => {
      if (timer !== null) clearTimeout(timer)
      timer = null
      setHolding(false)
    }
    /**
     * Whether the focus was last moved with the Tab key. What the browser itself calls a visible focus is no sign of it:
     * after a key was pressed it is one that a press of the mouse has put there, too.
     */
    let isByTab = false
    const byPointer = () => {
      isByTab = false
    }
    const isReachedButton = (target: EventTarget | null): boolean =>
      isByTab && target instanceof HTMLElement && target.matches('button, a, summary, input')
    const down = (event: KeyboardEvent) => {
      const { key } = event
      if (key === 'Tab') isByTab = true
      if (event.ctrlKey || event.metaKey || event.altKey) return
      const isFoot = footKey !== null && key === footKey
      if (isWritten(event.target) && !(isFoot && key.length > 1)) return
      if (isFoot || key === ' ') {
        if (!isFoot && isReachedButton(event.target)) return
        event.preventDefault()
        if (!event.repeat) latest.current.onKey('go')
        return
      }
      if (event.repeat || event.defaultPrevented) return
      if (key === 'Escape') {
        latest.current.onKey('escape')
        setHolding(true)
        timer ??= setTimeout(() => {
          letGo()
          latest.current.onKey('escape-held')
        }, HOLD_MS)
        return
      }
      const letter = key.toLowerCase()
      const meant = LETTERS[letter]
      if (meant) {
        // What the key opens may be a field: the letter is not to be written into it.
        event.preventDefault()
        latest.current.onKey(meant)
      } else if (letter === 't') latest.current.onKey(event.shiftKey ? 'turn-back' : 'turn')
      else if (letter === 'm') latest.current.onSound()
      else if (letter === 'a') latest.current.onRoom()
      else if (/^[1-9]$/.test(key)) latest.current.onDigit(Number(key))
    }
    const up = (event: KeyboardEvent) => {
      if (event.key === 'Escape') letGo()
      // A button that has the focus by a press of the mouse would act on the key's release.
      if (event.key === ' ' && !isWritten(event.target) && !isReachedButton(event.target))
        event.preventDefault()
    }
    addEventListener('pointerdown', byPointer, true)
    addEventListener('keydown', down)
    addEventListener('keyup', up)
    addEventListener('blur', letGo)
    return () => {
      letGo()
      removeEventListener('pointerdown', byPointer, true)
      removeEventListener('keydown', down)
      removeEventListener('keyup', up)
      removeEventListener('blur', letGo)
    }
  }, [footKey])
  return isHolding
}

const isWritten = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.matches('input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]')
