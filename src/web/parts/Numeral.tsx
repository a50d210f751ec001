import type { ReactNode } from 'react'
import { useMark, useNextUnit } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import './Numeral.css'

/**
 * A figure with its doubt. A press on it opens its ledger beside it; a press on the unit goes to the person's next
 * unit. `words` end in the unit where there is one: “68.2 ± 1.5 N”, “at least 68.2 N”, “not recorded”.
 */
export function Numeral({
  words,
  unit,
  name,
  large = false,
  isOpen,
  onOpen,
  children,
}: {
  words: string
  /** What a press changes; `null` for figures that have one unit only. */
  unit: string | null
  /** What the figure is, for those who do not see where it stands. */
  name: string
  large?: boolean
  isOpen: boolean
  onOpen: (isOpen: boolean) => void
  /** The ledger, shown while it is open. */
  children: ReactNode
}) {
  const mark = useMark()
  const nextUnit = useNextUnit()
  const figure = unit === null ? words : words.replaceAll(` ${unit}`, '')
  const hasUnit = unit !== null && figure !== words
  return (
    <div className="numeral-block">
      <span className={large ? 'numeral' : 'numeral-small'}>
        <button
          type="button"
          className="numeral-figure"
          aria-expanded={isOpen}
          title={texts.read.showLedger(name)}
          onClick={() => onOpen(!isOpen)}
        >
          <span className="hidden-words">{name}: </span>
          {mark(figure)}
        </button>
        {hasUnit && (
          <button type="button" className="numeral-unit" title={texts.curve.nextUnit} onClick={nextUnit}>
            {unit}
          </button>
        )}
      </span>
      {isOpen && <div className="numeral-ledger">{children}</div>}
    </div>
  )
}
