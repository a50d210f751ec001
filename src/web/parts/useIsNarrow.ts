import { useSyncExternalStore } from 'react'

/** As in the style sheets: a phone held upright. */
const NARROW = '(max-width: 640px)'

/** Whether the window is too narrow for words on a curve and for parts that stand open beside each other. */
export function useIsNarrow(): boolean {
  return useSyncExternalStore(
    changed => {
      const query = matchMedia(NARROW)
      query.addEventListener('change', changed)
      return () => query.removeEventListener('change', changed)
    },
    () => matchMedia(NARROW).matches,
  )
}
