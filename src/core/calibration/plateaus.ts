import type { Recording } from '../recording.ts'
import { median } from '../signal/order.ts'
import { displayStep } from '../signal/quantum.ts'
import { readingStep } from './resolution.ts'

/** A stretch over which the reading stands still. */
export interface Plateau {
  readonly from: number
  /** One past the last sample. */
  readonly to: number
  readonly level: number
  /** Standard uncertainty of the level: scatter over the root of the samples, and the display's rounding. */
  readonly standard: number
}

export interface PlateauOptions {
  readonly leastS?: number
  readonly leastSamples?: number
}

/** A reading stands still while it stays within this many noise sds, or display steps. */
const WITHIN_NOISES = 8
const WITHIN_STEPS = 2

/** Different readings that are enough to see the display's step by. */
const MOST_VALUES = 500

/**
 * Stretches where the reading stands still, in order. Each grows while its readings lie within 8 noise sds or two
 * steps of the display of one another; neighbours at one level are joined. The recording's unit is the result's.
 */
export function findPlateaus(
  { timeS, forceN }: Pick<Recording, 'timeS' | 'forceN'>,
  { leastS = 1, leastSamples = 5 }: PlateauOptions = {},
): Plateau[] {
  const changes = forceN.subarray(1).map((value, i) => Math.abs(value - forceN[i]!))
  const step = readingStep([...new Set(forceN)].slice(0, MOST_VALUES)) ?? displayStep(forceN)
  const within = Math.max(WITHIN_NOISES * noiseOf(changes), WITHIN_STEPS * step)
  const found: { from: number; to: number }[] = []
  let from = 0
  let low = Infinity
  let high = -Infinity
  for (let i = 0; i <= forceN.length; i++) {
    const value = forceN[i]
    if (value !== undefined && Math.max(high, value) - Math.min(low, value) <= within) {
      low = Math.min(low, value)
      high = Math.max(high, value)
      continue
    }
    if (i - from >= leastSamples && timeS[i - 1]! - timeS[from]! >= leastS) found.push({ from, to: i })
    from = i
    low = value ?? 0
    high = value ?? 0
  }
  return joined(found, forceN, within).map(({ from, to }) => levelOf(forceN, from, to, step))
}

/** Noise sd from the changes between neighbours, for a record that mostly stands still; 0 where most do not change at all. */
const noiseOf = (changes: Float64Array): number => (1.4826 * (median(changes) ?? 0)) / Math.SQRT2

/** A lasting creep or drift parts one stand into several: those that follow at once at nearly one level are joined. */
function joined(
  stands: readonly { from: number; to: number }[],
  forceN: Float64Array,
  within: number,
): { from: number; to: number }[] {
  const out: { from: number; to: number }[] = []
  for (const stand of stands) {
    const last = out.at(-1)
    const touches = last !== undefined && stand.from - last.to <= 2
    if (touches && Math.abs(middleOf(forceN, stand) - middleOf(forceN, last)) <= 1.5 * within)
      last.to = stand.to
    else out.push({ ...stand })
  }
  return out
}

const middleOf = (forceN: Float64Array, { from, to }: { from: number; to: number }): number =>
  median(forceN.subarray(from, to)) ?? 0

function levelOf(forceN: Float64Array, from: number, to: number, step: number): Plateau {
  const n = to - from
  let sum = 0
  for (let i = from; i < to; i++) sum += forceN[i]!
  const level = sum / n
  let squares = 0
  for (let i = from; i < to; i++) squares += (forceN[i]! - level) ** 2
  const scatter = n > 1 ? Math.sqrt(squares / (n - 1) / n) : 0
  return { from, to, level, standard: Math.hypot(scatter, step / Math.sqrt(12)) }
}

/** The empty hook and the hung mass of a recording that has both. */
export interface Hang {
  readonly rest: Plateau
  readonly loaded: Plateau
}

/**
 * The longest stand near the rest and the longest near the mass: of all stands, the rest is the nearer half to where the
 * recording begins. `null` where there is one level only.
 */
export function findHang(recording: Recording): Hang | null {
  const stands = findPlateaus(recording)
  const first = stands[0]
  if (first === undefined) return null
  const far = stands.reduce((most, s) =>
    Math.abs(s.level - first.level) > Math.abs(most.level - first.level) ? s : most,
  )
  const apart = Math.abs(far.level - first.level)
  if (!(apart > 6 * Math.hypot(far.standard, first.standard))) return null
  const near = (level: number) => stands.filter(s => Math.abs(s.level - level) < apart / 4)
  const longest = (of: readonly Plateau[]) =>
    of.reduce((most, s) => (s.to - s.from > most.to - most.from ? s : most))
  return { rest: longest(near(first.level)), loaded: longest(near(far.level)) }
}
