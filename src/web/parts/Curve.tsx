import { type PointerEvent, type ReactNode, useId, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { ShownUnit } from '../../core/units/force.ts'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import { CurveAxes } from './curve/CurveAxes.tsx'
import { CurveButtons } from './curve/CurveButtons.tsx'
import { CurveEvents } from './curve/CurveEvents.tsx'
import { CurveMarks, placeTicks, ROW_PX, tickAt } from './curve/CurveMarks.tsx'
import { CurvePart } from './curve/CurvePart.tsx'
import { CurveReadout } from './curve/CurveReadout.tsx'
import { CurveStretch } from './curve/CurveStretch.tsx'
import { layoutOf, planeOf } from './curve/layout.ts'
import { lineAt, rangeInView } from './curve/paint.ts'
import type {
  Band,
  CurveLevel,
  CurveLine,
  CurveMovable,
  CurvePeak,
  CurveSeam,
  CurveTick,
} from './curve/types.ts'
import { useGestures, useWheel } from './curve/useGestures.ts'
import { useInk } from './curve/useInk.ts'
import { usePainting } from './curve/usePainting.ts'
import { useSize } from './curve/useSize.ts'
import { isWhole, type View, viewByKey, within } from './curve/view.ts'
import { Selvedge } from './Selvedge.tsx'
import { useIsNarrow } from './useIsNarrow.ts'
import './Curve.css'

export interface CurveProps {
  /** The whole of the lower axis. A curve that grows gets a longer one each time. */
  readonly whole: View
  /** From the back to the front. */
  readonly lines: readonly CurveLine[]
  readonly unit: ShownUnit
  /** What the lower axis measures, with its unit: `time, s`. */
  readonly along: string
  readonly alongUnit: string
  /** Says what the curve is, and what it shows, to those who do not see it. */
  readonly label: string
  readonly description: string
  /** The selvedge, from end to end of the whole. */
  readonly bands: readonly Band[]
  readonly ticks?: readonly CurveTick[]
  readonly peak?: CurvePeak | null
  readonly levels?: readonly CurveLevel[]
  /** The height reaches up to here at least, so that noise alone does not fill it. */
  readonly reachN?: number
  readonly seams?: readonly CurveSeam[]
  /** What is seen; `null` the whole, also while it grows. Left out, the curve keeps its own. */
  readonly view?: View | null
  readonly onView?: (view: View | null) => void
  /** The stretch that is marked; it has two handles. */
  readonly stretch?: View | null
  /** A stretch was marked: by a drag along the selvedge, or with Shift over the plot. */
  readonly onStretch?: (stretch: View) => void
  /** A part that is moved along the axis. */
  readonly part?: CurveMovable | null
  /** A plain drag over the plot marks too, instead of moving the view. */
  readonly marking?: boolean
  readonly onTick?: (id: string) => void
  /** Rows of words over the plot, at most. */
  readonly mostRows?: number
  /** The place that is pointed at; `null` when the pointer has left. */
  readonly onPoint?: (at: number | null) => void
  /** The line that is pointed at, of many; `null` where none is near. */
  readonly onLine?: (id: string | null) => void
  /** Buttons of the caller's own, beside those for the view. */
  readonly children?: ReactNode
}

const NONE: readonly never[] = []
/** A line is pointed at from no farther than this. */
const NEAR_PX = 24

/**
 * A curve of any length, with its selvedge below on the same axis. Moved by drag, wheel, pinch and keys (arrows, +, −,
 * 0; Shift goes far); F fits the height to what is seen. Lines are asked for in slices and painted on a canvas; all
 * else is drawn over them, so that it is text. Takes the width and the height of its box (`.curve` sets a height that
 * the caller may override).
 *
 * For a curve that grows give the same line ids with another `version` each time, a slice that answers at once, and
 * leave `view` at `null`. For very many lines give plain slices too: they are drawn over several frames.
 */
export function Curve({
  whole,
  lines,
  unit,
  along,
  alongUnit,
  label,
  description,
  bands,
  ticks = NONE,
  peak = null,
  levels = NONE,
  reachN = 0,
  seams = NONE,
  view: givenView,
  onView,
  stretch = null,
  onStretch,
  part = null,
  marking = false,
  onTick,
  mostRows,
  onPoint,
  onLine,
  children,
}: CurveProps) {
  const box = useRef<HTMLDivElement>(null)
  const pad = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const descriptionId = useId()
  const mark = useMark()
  const colourOf = useInk(box)
  const size = useSize(box)
  const [ownView, setOwnView] = useState<View | null>(null)
  const [fits, setFits] = useState(false)
  const [pointed, setPointed] = useState<number | null>(null)
  const { slices, painter } = usePainting(canvas, colourOf)

  const chosen = givenView === undefined ? ownView : givenView
  const view = chosen ? within(chosen, whole) : whole
  const setView = (next: View) => {
    const seen = isWhole(next, whole) ? null : next
    if (givenView === undefined) setOwnView(seen)
    onView?.(seen)
  }
  const layout = layoutOf(size, unit, mostRows)
  slices?.want(lines, whole, view, Math.round(layout.width))
  const drawn = slices?.best(view) ?? NONE
  const seenN = fits
    ? rangeInView(
        drawn.map(({ slice }) => slice),
        view,
      )
    : reaching(slices?.range() ?? null, reachN)
  const plane = planeOf(layout, view, seenN, fits ? null : peak)
  useLayoutEffect(() => {
    if (plane.width > 0) painter?.paint(drawn, plane)
  })

  const isNarrow = useIsNarrow()
  const marked = useMemo(
    () => (isNarrow ? ticks.map(tick => ({ ...tick, label: `${tick.number}` })) : ticks),
    [isNarrow, ticks],
  )
  const rows = Math.floor((layout.top - 8) / ROW_PX)
  // Over the axes stand their units.
  const room = { left: 0, right: layout.withNewton ? 0 : layout.right }
  const placed = placeTicks(marked, plane, rows, room, isNarrow ? ticks.length : undefined)
  const gestures = useGestures({
    view,
    whole,
    setView,
    plotBox: () => ({
      left: (pad.current ?? document.body).getBoundingClientRect().left,
      width: layout.width,
    }),
    marking: marking && onStretch !== undefined,
    onStretch: onStretch && ((from, to) => onStretch({ from, to })),
    onPress: ({ at, clientY, marks }) => {
      const band = bands.find(({ from, to }) => at >= from && at < to)
      if (marks) {
        if (band) onStretch?.({ from: band.from, to: band.to })
        return
      }
      const x = ((at - view.from) / (view.to - view.from)) * layout.width
      const y = clientY - (pad.current ?? document.body).getBoundingClientRect().top - layout.top
      const tick = tickAt(placed, plane, x, y)
      if (tick) onTick?.(tick.id)
    },
  })
  useWheel(pad, gestures.onWheel)
  const { onPointerDown, onPointerMove, onPointerUp } = gestures
  const point = (at: number | null) => {
    setPointed(at)
    onPoint?.(at)
  }
  const seenText = mark(texts.curve.seen(view.from, view.to, alongUnit))
  const atOf = (clientX: number) => {
    const { left } = (pad.current ?? document.body).getBoundingClientRect()
    return view.from + ((clientX - left) / layout.width) * (view.to - view.from)
  }

  const lineUnder = ({ clientX, clientY, currentTarget }: PointerEvent<HTMLElement>): string | null => {
    const y = clientY - currentTarget.getBoundingClientRect().top - layout.top
    const perPixelN = (plane.highN - plane.lowN) / Math.max(1, plane.height)
    return lineAt(drawn, atOf(clientX), plane.highN - y * perPixelN, NEAR_PX * perPixelN)
  }

  return (
    <div className="curve">
      <div className="curve-box" ref={box}>
        {/* The frame keeps its place while nothing is measured yet. */}
        <canvas
          ref={canvas}
          className="curve-canvas"
          style={{ left: layout.left, top: layout.top, width: layout.width, height: layout.height }}
        />
        <div
          ref={pad}
          role="slider"
          aria-orientation="horizontal"
          aria-valuemin={whole.from}
          aria-valuemax={whole.to}
          aria-valuenow={(view.from + view.to) / 2}
          aria-valuetext={seenText}
          tabIndex={0}
          className="curve-pad"
          data-marking={marking}
          aria-label={label}
          aria-describedby={descriptionId}
          style={{ left: layout.left, top: 0, width: layout.width, height: layout.top + layout.height }}
          onKeyDown={event => {
            if (event.key.toLowerCase() === 'f' && !event.ctrlKey && !event.metaKey && !event.altKey)
              setFits(!fits)
            else gestures.onKeyDown(event)
          }}
          onPointerDown={event => {
            event.currentTarget.focus({ preventScroll: true })
            onPointerDown(event)
          }}
          onPointerMove={event => {
            onPointerMove(event)
            point(atOf(event.clientX))
            if (onLine && event.buttons === 0) onLine(lineUnder(event))
          }}
          onPointerUp={onPointerUp}
          onPointerCancel={onPointerUp}
          onPointerLeave={() => {
            point(null)
            onLine?.(null)
          }}
        />
        {part && <CurvePart part={part} view={view} layout={layout} />}
        <svg className="curve-over" aria-hidden="true">
          <g transform={`translate(${layout.left} ${layout.top})`}>
            <CurveAxes
              plane={plane}
              unit={unit}
              along={along}
              axisY={layout.axisY}
              withNewton={layout.withNewton}
              mark={mark}
            />
            <CurveMarks plane={plane} ticks={placed} peak={peak} levels={levels} seams={seams} />
            <Selvedge
              bands={bands}
              view={view}
              width={layout.width}
              y={layout.selvedgeY}
              unit={alongUnit}
              mark={mark}
              {...(onStretch && {
                gestures: {
                  onPointerDown: event => onPointerDown(event, true),
                  onPointerMove,
                  onPointerUp,
                },
              })}
            />
            {stretch && (
              <CurveStretch
                stretch={stretch}
                whole={whole}
                plane={plane}
                bottom={layout.axisY}
                onStretch={onStretch}
                atOf={atOf}
              />
            )}
            <CurveReadout
              at={pointed}
              drawn={drawn}
              plane={plane}
              unit={unit}
              alongUnit={alongUnit}
              tick={
                pointed === null
                  ? null
                  : tickAt(placed, plane, ((pointed - view.from) / (view.to - view.from)) * layout.width, 1)
              }
              mark={mark}
            />
          </g>
        </svg>
      </div>
      {isNarrow && ticks.length > 0 && <CurveEvents ticks={ticks} />}
      <CurveButtons
        isWhole={chosen === null}
        fits={fits}
        onFits={setFits}
        onKey={key => {
          const next = viewByKey(key, false, view, whole)
          if (next) setView(next)
        }}
      >
        {children}
        <span className="pencil small">{seenText}</span>
      </CurveButtons>
      <p id={descriptionId} className="hidden-words">
        {description} {texts.curve.keys}
      </p>
    </div>
  )
}

const reaching = (seenN: [number, number] | null, reachN: number): [number, number] | null =>
  seenN && [seenN[0], Math.max(seenN[1], reachN)]
