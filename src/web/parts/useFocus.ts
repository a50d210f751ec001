import { type RefObject, useEffect, useRef } from 'react'

/** Puts the keyboard into a field that a person has just asked for. */
export function useFocus<T extends HTMLElement>(): RefObject<T | null> {
  const place = useRef<T>(null)
  useEffect(() => place.current?.focus(), [])
  return place
}
