import type { ReactNode } from 'react'
import { texts } from '../../texts/index.ts'

const words = texts.curve

/** What drag, wheel and keys do, for those who would rather press. */
export function CurveButtons({
  isWhole,
  fits,
  onFits,
  onKey,
  children,
}: {
  isWhole: boolean
  fits: boolean
  onFits: (fits: boolean) => void
  /** Does to the view what the key does. */
  onKey: (key: string) => void
  children: ReactNode
}) {
  const button = (face: string, name: string, key: string, isOff: boolean) => (
    <button
      type="button"
      className="button"
      aria-label={name}
      title={name}
      disabled={isOff}
      onClick={() => onKey(key)}
    >
      {face}
    </button>
  )
  return (
    <div className="curve-buttons row">
      {button('−', words.farther, '-', isWhole)}
      {button('+', words.closer, '+', false)}
      {button(words.all, words.wholeCurve, '0', isWhole)}
      <button
        type="button"
        className="button"
        aria-pressed={fits}
        title={words.fitTitle}
        onClick={() => onFits(!fits)}
      >
        {words.fit}
      </button>
      {children}
    </div>
  )
}
