import { useState } from 'react'
import { LineChooser } from '../../live/LineChooser.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { LineTrace } from './LineTrace.tsx'
import type { BenchLine } from './useLineNow.ts'

const t = texts.rig

/**
 * The line, open in the way that is wanted, or the button that opens it so. Readings can be typed as well, so nothing
 * here is in the way of the one who has no line.
 */
export function LinePart({
  line,
  wish,
  isAsked = false,
}: {
  line: BenchLine
  wish: 'raw' | 'rig'
  /** The person has asked for the line: the choice stands there at once. */
  isAsked?: boolean
}) {
  const { now, chosen } = line
  const isRight = now.mode === wish
  const [isChoosing, setIsChoosing] = useState(isAsked)
  return (
    <div className="rig-line">
      {now.mode === 'away' && <p className="warning">{t.serverAway}</p>}
      {now.mode === 'closed' &&
        (isChoosing ? (
          <LineChooser chosen={chosen} onOpen={() => line.open(wish)} />
        ) : (
          <button type="button" className="button" onClick={() => setIsChoosing(true)}>
            {t.withLine}
          </button>
        ))}
      {now.mode !== 'closed' && now.mode !== 'away' && !isRight && (
        <p className="row">
          <span>{wish === 'raw' ? t.lineIsScaled : t.lineIsUnscaled}</span>
          <button type="button" className="button" disabled={line.isBusy} onClick={() => line.open(wish)}>
            {wish === 'raw' ? t.openRaw : t.openWithRig}
          </button>
        </p>
      )}
      {isRight && <LineTrace now={now} />}
      <Problems error={line.error} />
    </div>
  )
}
