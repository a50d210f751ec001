/** One step of a calibration, in newton and in the rig's own reading. */
export interface Point {
  /** Line of the file it came from; 0 where there is none. */
  readonly line: number
  readonly appliedN: number
  readonly reading: number
  readonly direction: 'up' | 'down'
  /** From 1. */
  readonly cycle: number
}

/**
 * A cause of doubt about the applied forces: by how much each point's force moves when the cause moves by one standard
 * uncertainty. What the same cause moves is moved together, so a set of masses that reads 1 % high stays 1 % high.
 */
export interface AppliedDoubt {
  readonly source: string
  readonly movesN: Float64Array
  readonly shape: 'normal' | 'rectangular'
}

/** Steps whose forces differ by less than this share of the greatest count as one. */
const SAME_STEP = 1e-3

export interface Step {
  /** Mean applied force. */
  readonly appliedN: number
  /** Indices of its points. */
  readonly at: readonly number[]
}

/** Points gathered by applied force, in rising order. */
export function stepsOf(points: readonly Point[]): Step[] {
  const order = points.map((_, i) => i).sort((a, b) => points[a]!.appliedN - points[b]!.appliedN)
  const near = SAME_STEP * Math.max(...points.map(p => Math.abs(p.appliedN)))
  const groups: number[][] = []
  for (const i of order) {
    const last = groups.at(-1)
    if (last && points[i]!.appliedN - points[last[0]!]!.appliedN <= near) last.push(i)
    else groups.push([i])
  }
  return groups.map(at => ({
    at,
    appliedN: at.reduce((sum, i) => sum + points[i]!.appliedN / at.length, 0),
  }))
}

export interface Mark {
  readonly direction: 'up' | 'down'
  readonly cycle: number
}

/** Fewer points a sweep than this on average is no order at all. */
const LEAST_SWEEP = 2.1

/**
 * Direction and cycle of points that do not say them, from their order: up while the force grows, down while it falls,
 * a new cycle at each turn from down to up. A fall straight to the foot of the next run (`10 20 30 10 20 30`) begins that
 * run. Where the order makes no sweeps, all count as up, and the n-th time that a force comes is its n-th cycle.
 */
export function sweepsOf(appliedN: readonly number[]): { sweeps: boolean; marks: readonly Mark[] } {
  const marks = feetOfRuns(appliedN, turnsOf(appliedN))
  const runs = marks.filter((mark, i) => {
    const before = marks[i - 1]
    return !before || before.direction !== mark.direction || before.cycle !== mark.cycle
  }).length
  return appliedN.length / runs < LEAST_SWEEP
    ? { sweeps: false, marks: byRepeat(appliedN) }
    : { sweeps: true, marks }
}

function turnsOf(appliedN: readonly number[]): Mark[] {
  let cycle = 1
  let direction: 'up' | 'down' = 'up'
  return appliedN.map((force, i) => {
    const before = appliedN[i - 1] ?? force
    const now = force > before ? 'up' : force < before ? 'down' : direction
    if (now === 'up' && direction === 'down') cycle++
    direction = now
    return { direction, cycle }
  })
}

/** A lone fall between two runs up, to the least load, is the foot of the second; to zero it ends the first. */
function feetOfRuns(appliedN: readonly number[], marks: readonly Mark[]): Mark[] {
  const least = Math.min(...appliedN.filter(force => force > 0))
  return marks.map((mark, i) => {
    const next = marks[i + 1]
    const lone = mark.direction === 'down' && marks[i - 1]?.direction === 'up' && next?.direction === 'up'
    return lone && appliedN[i] === least ? { direction: 'up', cycle: next.cycle } : mark
  })
}

function byRepeat(appliedN: readonly number[]): Mark[] {
  const seen = new Map<number, number>()
  return appliedN.map(force => {
    const cycle = (seen.get(force) ?? 0) + 1
    seen.set(force, cycle)
    return { direction: 'up', cycle }
  })
}
