import { useState } from 'react'
import { texts } from '../../texts/index.ts'
import type { CurveTick } from './types.ts'

/** So many stand open; a curve with more is mostly texture. */
const FIRST = 24

/** What happened, by the numbers that stand on the curve: for windows that are too narrow for words on it. */
export function CurveEvents({ ticks }: { ticks: readonly CurveTick[] }) {
  const [showsAll, setShowsAll] = useState(false)
  const inOrder = [...ticks].sort((a, b) => a.number - b.number)
  const shown = showsAll ? inOrder : inOrder.slice(0, FIRST)
  return (
    <div className="curve-events">
      <ol className="plain-list">
        {shown.map(({ id, number, label }) => (
          <li key={id}>
            <strong>{number}</strong> {label}
          </li>
        ))}
      </ol>
      {shown.length < inOrder.length && (
        <button type="button" className="button" onClick={() => setShowsAll(true)}>
          {texts.read.moreEvents(inOrder.length)}
        </button>
      )}
    </div>
  )
}
