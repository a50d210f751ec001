const SHAPES = [
  null,
  'M-0.9 -0.9H0.9V0.9H-0.9Z',
  'M0 -1.15L1.05 0.85H-1.05Z',
  'M0 -1.25L1.25 0L0 1.25L-1.25 0Z',
] as const

/** One mark for each failure mode in turn, as in the figures: disc, square, triangle, diamond. Open where only reached. */
export function Mark({
  mode,
  x,
  y,
  open,
  colour,
  size,
}: {
  mode: number
  x: number
  y: number
  open: boolean
  colour: string
  size: number
}) {
  const shape = SHAPES[Math.max(0, mode) % SHAPES.length]
  const look = {
    fill: open ? 'var(--paper)' : colour,
    stroke: colour,
    strokeWidth: 1.5,
    vectorEffect: 'non-scaling-stroke' as const,
  }
  return shape == null ? (
    <circle cx={x} cy={y} r={size} {...look} />
  ) : (
    <path d={shape} transform={`translate(${x} ${y}) scale(${size})`} {...look} />
  )
}
