import { useEffect } from 'react'

/** Shows the page dark while it is on the screen, whatever the person's theme is; leaves that as it was. */
export function useNight(isNight: boolean): void {
  useEffect(() => {
    const root = document.documentElement
    const { theme } = root.dataset
    if (!isNight) return
    let theirs = theme
    const put = () => {
      if (root.dataset.theme === 'dark') return
      theirs = root.dataset.theme
      root.dataset.theme = 'dark'
    }
    put()
    // The settings may come in, or the system may change, while the place is open.
    const watch = new MutationObserver(put)
    watch.observe(root, { attributes: true, attributeFilter: ['data-theme'] })
    return () => {
      watch.disconnect()
      if (theirs !== undefined) root.dataset.theme = theirs
    }
  }, [isNight])
}
