import { type PointerEvent, useId } from 'react'
import { STRETCH_WORDS } from '../../core/reading/selvedge.ts'
import type { StretchKind } from '../../core/reading/states.ts'
import { textWidth } from '../../publish/figure/textWidth.ts'
import type { Band } from './curve/types.ts'
import type { View } from './curve/view.ts'

/** Height of the strip, in CSS pixels. */
export const SELVEDGE_PX = 18
const WORDS_PX = 12
const PLACE_PX = 8
/** Fingers need more than the strip is high. */
const TOUCH_ABOVE_PX = 3
const TOUCH_BELOW_PX = 6

/** The woven pattern of each kind; loading is plain and no data is a gap. */
const WEAVES: Partial<Record<StretchKind, string>> = {
  hold: 'M-1 7L7 -1',
  unload: 'M-1 -1L7 7',
  regrip: 'M-1 7L7 -1M-1 -1L7 7',
}

export interface SelvedgeProps {
  readonly bands: readonly Band[]
  readonly view: View
  readonly width: number
  readonly y: number
  readonly unit: string
  readonly mark: (text: string) => string
  readonly gestures?: {
    onPointerDown(event: PointerEvent<SVGElement>): void
    onPointerMove(event: PointerEvent<SVGElement>): void
    onPointerUp(event: PointerEvent<SVGElement>): void
  }
}

/** The selvedge: what was going on, in woven patterns, with the word where there is room and a title where not. */
export function Selvedge({ bands, view, width, y, unit, mark, gestures }: SelvedgeProps) {
  const id = useId().replaceAll(/[^\w-]/g, '')
  const xOf = (at: number) => ((at - view.from) / (view.to - view.from)) * width
  return (
    <g
      className="selvedge"
      transform={`translate(0 ${y})`}
      {...gestures}
      onPointerCancel={gestures?.onPointerUp}
    >
      <rect
        className="selvedge-pad"
        y={-TOUCH_ABOVE_PX}
        width={width}
        height={SELVEDGE_PX + TOUCH_ABOVE_PX + TOUCH_BELOW_PX}
      />
      <defs>
        <pattern id={`${id}rest`} width={6} height={6} patternUnits="userSpaceOnUse">
          <circle className="selvedge-dot" cx={3} cy={3} r={1} />
        </pattern>
        {Object.entries(WEAVES).map(([kind, d]) => (
          <pattern key={kind} id={`${id}${kind}`} width={6} height={6} patternUnits="userSpaceOnUse">
            <path className="selvedge-thread" d={d} />
          </pattern>
        ))}
      </defs>
      {bands
        .filter(({ from, to }) => to >= view.from && from <= view.to)
        .map(band => {
          // A place without length is still seen.
          const room = band.to > band.from ? 0 : PLACE_PX / 2
          const left = Math.max(-1, xOf(band.from) - room)
          const right = Math.min(width + 1, xOf(band.to) + room)
          const word = STRETCH_WORDS[band.kind]
          const length = room === 0 ? `, ${(band.to - band.from).toFixed(1)} ${unit}` : ''
          const wordWidth = textWidth(word, WORDS_PX) + 8
          const woven = band.kind === 'rest' || band.kind in WEAVES
          return (
            <g key={`${band.kind} ${band.from}`} data-kind={band.kind}>
              <title>{mark(word + length)}</title>
              <rect
                className={band.kind === 'gap' ? undefined : 'selvedge-edge'}
                x={left}
                width={Math.max(0, right - left)}
                height={SELVEDGE_PX}
                fill={woven ? `url(#${id}${band.kind})` : 'none'}
              />
              {wordWidth <= right - left && (
                <>
                  <rect
                    className="selvedge-ground"
                    x={(left + right - wordWidth) / 2}
                    y={1.5}
                    width={wordWidth}
                    height={SELVEDGE_PX - 3}
                  />
                  <text x={(left + right) / 2} y={SELVEDGE_PX / 2 + 4} textAnchor="middle">
                    {word}
                  </text>
                </>
              )}
            </g>
          )
        })}
    </g>
  )
}
