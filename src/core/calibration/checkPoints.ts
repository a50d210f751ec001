import type { Problem } from '../problem.ts'
import type { Warning } from './document.ts'
import { type Point, stepsOf } from './points.ts'

export interface CheckOptions {
  readonly coefficients: number
  readonly throughZero: boolean
}

/** More than any rig on a bench bears, or any converter counts. */
const MOST_N = 1e9
const MOST_READING = 1e15

/** What makes a calibration impossible, all of it. */
export function pointProblems(
  name: string,
  points: readonly Point[],
  { coefficients, throughZero }: CheckOptions,
): Problem[] {
  const problems: Problem[] = []
  for (const point of points) {
    if (!(Math.abs(point.appliedN) <= MOST_N) || !(Math.abs(point.reading) <= MOST_READING))
      problems.push({
        where: placeOf(name, point),
        what: `${point.appliedN} N against a reading of ${point.reading} is beyond any bench.`,
        cure: 'Correct the row, or take it out.',
      })
    else if (point.appliedN < 0)
      problems.push({
        where: placeOf(name, point),
        what: `a load of ${point.appliedN} N is below zero.`,
        cure: 'Loads are what hangs on the rig, 0 or more.',
      })
  }
  if (problems.length > 0) return problems
  const least = coefficients + 1
  if (points.length < least)
    problems.push({
      where: name,
      what: `${points.length} ${points.length === 1 ? 'point is' : 'points are'} too few: the fit has ${coefficients} unknowns, and one point more is needed to see how well it holds.`,
      cure: `Give at least ${least} points; better the empty hook and five loads, three times over.`,
    })
  const loaded = stepsOf(points).filter(step => step.appliedN > 0)
  if (
    points.length >= least &&
    loaded.length < (throughZero ? 1 : 2) + Math.max(0, coefficients - (throughZero ? 1 : 2))
  )
    problems.push({
      where: name,
      what:
        loaded.length === 0
          ? 'no point has a load.'
          : `only ${loaded.length} different ${loaded.length === 1 ? 'load' : 'loads'} (${loaded.map(s => round(s.appliedN)).join(', ')} N): that shows no line.`,
      cure: 'Add other masses. With one known mass only, use `tenterhook rig quick`, which makes no claim about the line.',
    })
  else if (points.length >= least && loaded.length === 1)
    problems.push({
      where: name,
      what: `one load only (${round(loaded[0]!.appliedN)} N): that shows no line.`,
      cure: 'Add other masses. With one known mass only, use `tenterhook rig quick`, which makes no claim about the line.',
    })
  const readings = points.map(p => p.reading)
  if (points.length >= least && Math.max(...readings) === Math.min(...readings))
    problems.push({
      where: name,
      what: `every reading is ${readings[0]}: the readings do not move with the load.`,
      cure: 'Check the wiring of the cell, and that the column is the reading.',
    })
  return problems
}

/** What a person should know of the points before trusting the fit. */
export function pointWarnings(points: readonly Point[], usedToN: number | null): Warning[] {
  const warnings: Warning[] = []
  const steps = stepsOf(points)
  const loaded = steps.filter(step => step.appliedN > 0)
  const topN = loaded.at(-1)?.appliedN ?? 0
  if (looksSwapped(points))
    warnings.push({
      code: 'columns-swapped',
      text: 'The readings repeat exactly while the loads scatter: the two columns look swapped.',
    })
  if (loaded.length < 5)
    warnings.push({
      code: 'few-steps',
      text: `${loaded.length} different loads; five at about 20, 40, 60, 80 and 100 % of the range are usual.`,
    })
  const runs = new Set(points.filter(p => p.direction === 'up').map(p => p.cycle)).size
  if (runs < 3)
    warnings.push({
      code: 'few-runs',
      text: `${runs} ${runs === 1 ? 'run' : 'runs'} up; three are usual, and repeatability is judged by them.`,
    })
  if (usedToN !== null && usedToN > topN * 1.001)
    warnings.push({
      code: 'range-not-covered',
      text: `The loads reach ${round(topN)} N, but the rig is used up to ${round(usedToN)} N: beyond the loads the fit is a guess.`,
    })
  if (loaded[0] && loaded[0].appliedN > 0.5 * topN && loaded.length > 1)
    warnings.push({
      code: 'range-not-covered',
      text: `No load lies below ${round(loaded[0].appliedN)} N: nothing is known of smaller forces.`,
    })
  if (!steps.some(step => step.appliedN === 0))
    warnings.push({
      code: 'no-empty-hook',
      text: 'The empty hook was not read: add points with a load of 0.',
    })
  return warnings
}

/** Loads are set and repeat; readings scatter. The other way round the columns are most likely swapped. */
function looksSwapped(points: readonly Point[]): boolean {
  const repeats = (values: readonly number[]) => values.length - new Set(values).size
  const loads = points.map(p => p.appliedN)
  const readings = points.map(p => p.reading)
  return repeats(readings) >= 2 && repeats(readings) >= points.length / 3 && repeats(loads) === 0
}

const placeOf = (name: string, { line }: Point): string => (line > 0 ? `${name}, line ${line}` : name)

const round = (value: number): string => String(Number(value.toPrecision(4)))
