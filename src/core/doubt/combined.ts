import { normalPdf } from '../statistics/distributions/normal.ts'
import { findRoot } from '../statistics/distributions/root.ts'
import { tabulatedT } from '../statistics/distributions/tTable.ts'
import { type Expanded, effectiveDf, expand, type Part } from './expanded.ts'
import type { Shape } from './input.ts'

/** An independent part of a doubt with the shape of its distribution; normal with few degrees of freedom is t. */
export interface ShapedPart extends Part {
  readonly shape: Shape
}

/** Points of the grid on which the parts of known spread are laid over one another. */
const POINTS = 401
/** The grid reaches so many standard uncertainties either way. */
const REACH = 9

/**
 * Independent parts combined and widened to the coverage asked, by the distribution of their sum (GUM supplement 1, JCGM
 * 101:2008) instead of the formula's t alone, which takes every sum for bell-shaped: one large rectangular part reaches
 * 1.65 standard uncertainties for 95 %, not 1.96. All parts of few degrees of freedom are joined by Welch and Satterthwaite
 * into one t; normal, rectangular and triangular parts are laid over one another on a grid, and the t over them by quadrature.
 */
export function expandShaped(parts: readonly ShapedPart[], coverage = 0.95): Expanded {
  const few = parts.filter(p => p.shape === 'normal' && p.df !== Infinity && p.standard > 0)
  const known = parts.filter(p => !few.includes(p) && p.standard > 0)
  const plain = expand(parts, coverage)
  if (known.every(p => p.shape === 'normal') && few.length === 0) return plain
  if (known.length === 0) return plain
  const scatter = Math.hypot(...few.map(p => p.standard))
  const sum = sumOf(known)
  const df = effectiveDf(few)
  const cdf = scatter > 0 ? tabulatedT(df) : null
  const within = (half: number): number => shareWithin(half, sum, cdf && (x => cdf(x / scatter)))
  const expanded = findRoot(half => within(half) - coverage, 0, upper(within, plain.expanded, coverage))
  return { standard: plain.standard, df: plain.df, k: expanded / plain.standard, expanded }
}

function upper(within: (half: number) => number, start: number, coverage: number): number {
  let high = start
  while (within(high) < coverage) high *= 1.5
  return high
}

interface Grid {
  readonly step: number
  /** Chance of each cell, the middle one at 0. */
  readonly mass: Float64Array
}

/** The distribution of a sum of normal, rectangular and triangular parts. */
function sumOf(parts: readonly ShapedPart[]): Grid {
  const normal = Math.hypot(...parts.filter(p => p.shape === 'normal').map(p => p.standard))
  const standard = Math.hypot(...parts.map(p => p.standard))
  const step = (2 * REACH * standard) / (POINTS - 1)
  const middle = (POINTS - 1) / 2
  // A triangle is two rectangles of half its width.
  const halves = parts.flatMap(p =>
    p.shape === 'rectangular'
      ? [Math.sqrt(3) * p.standard]
      : p.shape === 'triangular'
        ? [(Math.sqrt(6) * p.standard) / 2, (Math.sqrt(6) * p.standard) / 2]
        : [],
  )
  const first = Float64Array.from({ length: POINTS }, (_, i) =>
    normal > step / 4 ? normalPdf(((i - middle) * step) / normal) : i === middle ? 1 : 0,
  )
  return {
    step,
    mass: scaled(halves.reduce<Float64Array>((mass, half) => smeared(mass, half / step), first)),
  }
}

const scaled = (mass: Float64Array): Float64Array => {
  const all = mass.reduce((sum, m) => sum + m, 0)
  return mass.map(m => m / all)
}

/** Each cell spread evenly over ± `cells`, by the running sum. */
function smeared(mass: Float64Array, cells: number): Float64Array {
  const running = new Float64Array(POINTS + 1)
  for (let i = 0; i < POINTS; i++) running[i + 1] = running[i]! + mass[i]!
  const upTo = (place: number): number => {
    if (place <= 0) return 0
    if (place >= POINTS) return running[POINTS]!
    const whole = Math.floor(place)
    return running[whole]! + (place - whole) * mass[whole]!
  }
  return Float64Array.from({ length: POINTS }, (_, i) => upTo(i + 0.5 + cells) - upTo(i + 0.5 - cells))
}

/** P(|sum + t part| ≤ half); `cdf` of the t part, `null` where there is none. Both lie evenly about 0, which saves one side. */
function shareWithin(half: number, { step, mass }: Grid, cdf: ((x: number) => number) | null): number {
  const middle = (POINTS - 1) / 2
  let share = 0
  for (let i = 0; i < POINTS; i++) {
    const m = mass[i]!
    if (m < 1e-12) continue
    const at = (i - middle) * step
    share += m * (cdf ? 2 * cdf(half - at) - 1 : Math.max(0, Math.min(1, (half - Math.abs(at)) / step + 0.5)))
  }
  return share
}
