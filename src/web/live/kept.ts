import { useCallback, useState } from 'react'

/** A word that this browser keeps: `session` until its window is closed. Where nothing can be kept it is simply forgotten. */
export function useKept(
  name: string,
  where: 'session' | 'local' = 'local',
): readonly [string | null, (value: string | null) => void] {
  const key = `tenterhook.${name}`
  const [value, setValue] = useState(() => read(key, where))
  const keep = useCallback(
    (next: string | null) => {
      setValue(next)
      write(key, next, where)
    },
    [key, where],
  )
  return [value, keep]
}

const placeOf = (where: 'session' | 'local'): Storage => (where === 'session' ? sessionStorage : localStorage)

function read(key: string, where: 'session' | 'local'): string | null {
  try {
    return placeOf(where).getItem(key)
  } catch {
    return null
  }
}

function write(key: string, value: string | null, where: 'session' | 'local'): void {
  try {
    if (value === null) placeOf(where).removeItem(key)
    else placeOf(where).setItem(key, value)
  } catch {
    // A browser that keeps nothing for a page: the choice holds until it is closed.
  }
}
