import { type RefObject, useEffect, useState } from 'react'

/**
 * The colours of the theme for a canvas, which knows no custom properties: `colourOf('--accent')`. Another function
 * comes when the theme changes.
 */
export function useInk(within: RefObject<HTMLElement | null>): (colour: string) => string {
  const [colourOf, setColourOf] = useState(() => inkOf(within))
  useEffect(() => {
    const put = () => setColourOf(() => inkOf(within))
    put()
    const watch = new MutationObserver(put)
    watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] })
    return () => watch.disconnect()
  }, [within])
  return colourOf
}

function inkOf(within: RefObject<HTMLElement | null>): (colour: string) => string {
  const known = new Map<string, string>()
  return colour => {
    if (!colour.startsWith('--')) return colour
    const element = within.current ?? document.documentElement
    const found = known.get(colour) ?? getComputedStyle(element).getPropertyValue(colour).trim()
    if (within.current) known.set(colour, found)
    return found
  }
}
