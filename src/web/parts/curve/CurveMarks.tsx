import { type LabelPlace, placeLabels } from '../../../publish/figure/placeLabels.ts'
import { textWidth } from '../../../publish/figure/textWidth.ts'
import type { Plane } from './paint.ts'
import type { CurveLevel, CurvePeak, CurveSeam, CurveTick } from './types.ts'

/** Type size of the words on a curve, in CSS pixels: that of `curve.css`. */
export const WORDS_PX = 13
export const ROW_PX = 18
/** So many ticks may have words; a plot has room for fewer. */
const MOST_WORDS = 24
const MOST_TICKS = 400

export interface PlacedTick {
  readonly tick: CurveTick
  /** Its words, or its number in the list of events where there is no room for them. */
  readonly words: string
  readonly place: LabelPlace | null
}

/**
 * The ticks that are in view, the weightiest with a place for their words over the plot, the others for their number: by
 * that they are found in the list of events.
 */
export function placeTicks(
  ticks: readonly CurveTick[],
  { view, width }: Plane,
  rows: number,
  room: { readonly left: number; readonly right: number },
  mostWords = MOST_WORDS,
): PlacedTick[] {
  const perUnit = width / (view.to - view.from)
  const seen = ticks
    .filter(({ at }) => at >= view.from && at <= view.to)
    .sort((a, b) => b.weight - a.weight)
    .slice(0, MOST_TICKS)
  const placesOf = (words: readonly string[], weights: readonly number[]) =>
    placeLabels(
      words.map((said, i) => ({
        x: (seen[i]!.at - view.from) * perUnit,
        width: textWidth(said, WORDS_PX),
        weight: weights[i]!,
      })),
      { fromX: -room.left, toX: width + room.right, rows },
    )
  const inWords = placesOf(
    seen.slice(0, mostWords).map(({ label }) => label),
    seen.map(({ weight }) => weight),
  )
  const words = seen.map(({ label, number }, i) => (inWords[i] ? label : `${number}`))
  // What has words keeps them: it comes before all that get a number.
  const places = placesOf(
    words,
    seen.map((_, i) => (inWords[i] ? 2 * seen.length - i : seen.length - i)),
  )
  return seen.map((tick, i) => ({ tick, words: words[i]!, place: places[i] ?? null }))
}

const NEAR_PX = 12

/** The tick that a place of the plot points at: whose words are there, else the nearest; `null` for none. */
export function tickAt(
  ticks: readonly PlacedTick[],
  { view, width }: Plane,
  x: number,
  y: number,
): CurveTick | null {
  const worded = ticks.find(
    ({ words, place }) =>
      place !== null &&
      x >= place.x &&
      x <= place.x + textWidth(words, WORDS_PX) &&
      y <= 0 - place.row * ROW_PX &&
      y >= -(place.row + 1) * ROW_PX - 4,
  )
  if (worded) return worded.tick
  let nearest: CurveTick | null = null
  let leastPx = NEAR_PX
  for (const { tick } of ticks) {
    const awayPx = Math.abs(((tick.at - view.from) / (view.to - view.from)) * width - x)
    if (awayPx > leastPx) continue
    leastPx = awayPx
    nearest = tick
  }
  return nearest
}

/** What stands on the curve: ticks with their words, the pencilled peak, levels and seams. */
export function CurveMarks({
  plane,
  ticks,
  peak,
  levels,
  seams,
}: {
  plane: Plane
  ticks: readonly PlacedTick[]
  peak: CurvePeak | null
  levels: readonly CurveLevel[]
  seams: readonly CurveSeam[]
}) {
  const { view, lowN, highN, width, height } = plane
  const xOf = (at: number) => ((at - view.from) / (view.to - view.from)) * width
  const yOf = (forceN: number) => ((highN - forceN) / (highN - lowN)) * height
  // A curve rises to its peak from the left: there is room over it.
  const leftOfPeak = peak !== null && xOf(peak.at) > textWidth(peak.label, WORDS_PX) + 20
  const sees = (from: number, to = from) => to >= view.from && from <= view.to
  return (
    <g>
      {seams
        .filter(({ at }) => sees(at))
        .map(({ at, label }) => (
          <g key={at} className="curve-seam" transform={`translate(${xOf(at)} 0)`}>
            <line y1={0} y2={height} />
            <text x={4} y={height - 6}>
              {label}
            </text>
          </g>
        ))}
      {levels
        .filter(({ from, to }) => sees(from, to))
        .map(({ from, to, forceN, label }) => (
          <g key={`${from} ${label}`} className="curve-level">
            <line
              x1={Math.max(0, xOf(from))}
              x2={Math.min(width, Math.max(xOf(to), xOf(from) + 12))}
              y1={yOf(forceN)}
              y2={yOf(forceN)}
            />
            <text
              x={Math.max(0, Math.min(xOf(from), width - textWidth(label, WORDS_PX)))}
              y={yOf(forceN) + (forceN < 0 && yOf(forceN) + 20 < height ? 16 : -7)}
            >
              {label}
            </text>
          </g>
        ))}
      {ticks.map(({ tick, words, place }) => {
        const x = xOf(tick.at)
        const y = yOf(tick.forceN)
        const top = place ? -8 - place.row * ROW_PX : y - 16
        return (
          <g key={tick.id} className="curve-tick" data-worded={place !== null}>
            <line x1={x} x2={x} y1={Math.min(y - 4, height)} y2={place ? top + 3 : top} />
            {place && (
              <text x={place.x} y={top}>
                {words}
              </text>
            )}
          </g>
        )
      })}
      {/* Over the ticks, its words with a rim of paper: no line runs through them. */}
      {peak && sees(peak.at) && (
        <g className="curve-peak" transform={`translate(${xOf(peak.at)} 0)`}>
          {peak.lowN !== null && peak.highN !== null && (
            <path
              d={`M-4 ${yOf(peak.lowN)}h8M-4 ${yOf(peak.highN)}h8M0 ${yOf(peak.lowN)}V${yOf(peak.highN)}`}
            />
          )}
          <circle cy={yOf(peak.forceN)} r={4.5} />
          <text x={leftOfPeak ? -10 : 10} y={yOf(peak.forceN) + 4} textAnchor={leftOfPeak ? 'end' : 'start'}>
            {peak.label}
          </text>
        </g>
      )}
    </g>
  )
}
