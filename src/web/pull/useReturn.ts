import { useEffect, useRef } from 'react'

interface InHand {
  readonly id: string | null
  readonly name: string
}

/** Tells once, each time the server is back, what was in hand when it went. */
export function useReturn(
  returns: number,
  hasLine: boolean,
  inHand: InHand | null,
  tell: (was: InHand | null) => void,
): void {
  const seen = useRef(returns)
  const last = useRef(inHand)
  useEffect(() => {
    if (seen.current === returns) {
      last.current = inHand
      return
    }
    seen.current = returns
    tell(hasLine ? null : last.current)
    last.current = inHand
  })
}
