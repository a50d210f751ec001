import { scaleLinear } from 'd3-scale'
import type { Evidence } from '../../../core/health/document.ts'
import type { Recording } from '../../../core/recording.ts'
import { thinned } from '../../../core/signal/thin.ts'
import { useWidth } from '../../parts/useWidth.ts'

const HEIGHT = 110
const EDGE = 8
const MARK = 5

/** What is slow is not seen beside wild readings: where none of these are shown, the outermost of all are left out. */
const OUTERMOST = 0.02

function rangeOf(forceN: Float64Array, withAll: boolean): { low: number; high: number } {
  const sorted = forceN.slice().sort()
  const out = withAll ? 0 : Math.floor(OUTERMOST * sorted.length)
  return { low: sorted[out] ?? 0, high: sorted[sorted.length - 1 - out] ?? 0 }
}

/** A record with the places where a finding is seen: single readings by a mark above, stretches by a band. */
export function EvidenceTrace({
  recording: { timeS, forceN },
  evidence,
  label,
}: {
  recording: Recording
  evidence: Evidence
  label: string
}) {
  const { ref, width } = useWidth()
  const fromS = timeS[0] ?? 0
  const toS = timeS.at(-1) ?? 1
  const line = width > 0 ? thinned(timeS, forceN, Math.max(1, Math.floor(width))) : null
  const { low, high } = rangeOf(forceN, evidence.atS.length > 0)
  const margin = 0.1 * Math.max(high - low, 1e-9)
  const x = scaleLinear([fromS, toS], [EDGE, Math.max(EDGE + 1, width - EDGE)])
  const y = scaleLinear([low - margin, high + margin], [HEIGHT - EDGE, 2 * EDGE])
  return (
    <div ref={ref} className="health-trace">
      {line && (
        <svg width={width} height={HEIGHT} role="img" aria-label={label}>
          {evidence.spans.map(span => (
            <rect
              key={`${span.fromS}-${span.toS}`}
              className="rig-stand-band"
              x={x(span.fromS)}
              width={Math.max(2, x(span.toS) - x(span.fromS))}
              y={EDGE}
              height={HEIGHT - 2 * EDGE}
            />
          ))}
          <polyline
            className="rig-trace-line"
            points={Array.from(
              line.timeS,
              (at, i) => `${x(at).toFixed(1)},${y(line.value[i]!).toFixed(1)}`,
            ).join(' ')}
          />
          {evidence.atS.map(at => (
            <path
              key={at}
              className="health-mark"
              d={`M${x(at) - MARK},${EDGE - MARK} h${2 * MARK} l${-MARK},${1.6 * MARK} z`}
            />
          ))}
        </svg>
      )}
    </div>
  )
}
