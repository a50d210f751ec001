import { scaleLinear } from 'd3-scale'
import { useMark } from '../../app/units.tsx'
import { useWidth } from '../../parts/useWidth.ts'
import { texts } from '../../texts/index.ts'
import { levelText, STEADY_S } from './steady.ts'
import type { LineNow } from './useLineNow.ts'

const t = texts.rig
const HEIGHT = 96
const EDGE = 8
const SPAN_S = 8

/** The last seconds of the line, with the stand that it is in. */
export function LineTrace({ now }: { now: LineNow }) {
  const { ref, width } = useWidth()
  const mark = useMark()
  const { timeS, value, steady, latest, unit } = now
  const lastS = timeS.at(-1) ?? 0
  const least = value.reduce((low, v) => Math.min(low, v), Number.POSITIVE_INFINITY)
  const most = value.reduce((high, v) => Math.max(high, v), Number.NEGATIVE_INFINITY)
  const margin = Math.max(most - least, 40 * (steady?.step ?? 0), 1e-6) * 0.15
  const x = scaleLinear([lastS - SPAN_S, lastS], [EDGE, Math.max(EDGE + 1, width - EDGE)])
  const y = scaleLinear([least - margin, most + margin], [HEIGHT - EDGE, EDGE])
  const isSteady = steady !== null && steady.forS >= STEADY_S
  const shown = latest === null ? null : steady ? levelText(steady) : String(Number(latest.toPrecision(6)))
  return (
    <div className="rig-trace" ref={ref} data-steady={isSteady}>
      <p className="rig-reading">
        <span className="numeral">{shown === null ? '–' : mark(shown)}</span> {unit}{' '}
        <span className="rig-stand">{latest === null ? t.noReadings : isSteady ? t.steady : t.moving}</span>
      </p>
      {width > 0 && value.length > 1 && (
        <svg width={width} height={HEIGHT} aria-hidden="true">
          {steady && isSteady && (
            <rect
              className="rig-stand-band"
              x={x(lastS - Math.min(SPAN_S, steady.forS))}
              y={EDGE / 2}
              width={Math.max(0, width - EDGE - x(lastS - Math.min(SPAN_S, steady.forS)))}
              height={HEIGHT - EDGE}
            />
          )}
          <polyline className="rig-trace-line" points={pointsOf(timeS, value, x, y, width)} />
        </svg>
      )}
      <p className="pencil small">
        {now.name}
        {now.rateHz !== null && ` · ${mark(t.rate(now.rateHz))}`}
        {now.garbled > 0 && ` · ${t.garbled(now.garbled)}`}
      </p>
    </div>
  )
}

/** At most two points a pixel. */
function pointsOf(
  timeS: Float64Array,
  value: Float64Array,
  x: (at: number) => number,
  y: (at: number) => number,
  width: number,
): string {
  const step = Math.max(1, Math.floor(timeS.length / (2 * width)))
  const points: string[] = []
  for (let i = 0; i < timeS.length; i += step)
    points.push(`${x(timeS[i]!).toFixed(1)},${y(value[i]!).toFixed(1)}`)
  return points.join(' ')
}
