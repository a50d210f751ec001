import { useCallback, useEffect, useState } from 'react'

const HINT_MS = 5_000

/** A sentence that stands for a few seconds. */
export function useHint(): { readonly hint: string | null; readonly setHint: (text: string) => void } {
  const [said, setSaid] = useState<{ readonly text: string } | null>(null)
  useEffect(() => {
    if (said === null) return
    const timer = setTimeout(() => setSaid(null), HINT_MS)
    return () => clearTimeout(timer)
  }, [said])
  const setHint = useCallback((text: string) => setSaid({ text }), [])
  return { hint: said?.text ?? null, setHint }
}
