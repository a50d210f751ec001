import type { Thinned } from '../../core/signal/pyramid.ts'

const WIDTH = 320
const HEIGHT = 72
const EDGE = 3

/** A small curve of force over time: enough to see that a log is what one thinks it is. */
export function Sketch({ curve, label }: { curve: Thinned; label: string }) {
  return (
    <svg
      className="import-sketch"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={label}
    >
      <path className="import-sketch-zero" d={`M0 ${zeroY(curve)}H${WIDTH}`} />
      <path className="import-sketch-line" d={path(curve)} />
    </svg>
  )
}

function reach({ timeS, value }: Thinned) {
  let low = 0
  let high = 0
  for (const force of value) {
    if (force < low) low = force
    if (force > high) high = force
  }
  const fromS = timeS[0] ?? 0
  const overS = (timeS.at(-1) ?? 1) - fromS || 1
  const over = high - low || 1
  return {
    x: (time: number) => ((time - fromS) / overS) * WIDTH,
    y: (force: number) => EDGE + ((high - force) / over) * (HEIGHT - 2 * EDGE),
  }
}

const zeroY = (curve: Thinned): string => reach(curve).y(0).toFixed(1)

/** NaN breaks the line. */
function path(curve: Thinned): string {
  const { x, y } = reach(curve)
  let d = ''
  let pen = 'M'
  for (const [i, force] of curve.value.entries()) {
    if (Number.isNaN(force)) {
      pen = 'M'
      continue
    }
    d += `${pen}${x(curve.timeS[i] ?? 0).toFixed(1)} ${y(force).toFixed(1)}`
    pen = 'L'
  }
  return d
}
