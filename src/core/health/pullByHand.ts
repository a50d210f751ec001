import { rigStiffness } from '../calibration/stiffness.ts'
import type { Recording } from '../recording.ts'
import { fitLine } from '../signal/line.ts'
import { quantileSorted } from '../signal/order.ts'

/** What a slow pull by hand, to and fro, tells of a rig. */
export interface ByHand {
  /** How fast the force rose, at its fastest over a quarter of a second. */
  readonly loadingNPerS: number | null
  readonly greatestN: number
  /** Travel lost when the drive turns back, at one force; `null` without travel or without a way back. */
  readonly backlashMm: number | null
  readonly backlashStandardMm: number
  readonly stiffnessNPerMm: number | null
}

const SLOPE_S = 0.25
/** Shares of the greatest force between which the ways to and fro are compared. */
const FROM_SHARE = 0.25
const TO_SHARE = 0.75
const LEVELS = 11

/** What is known of the readings of the pull beside themselves. */
export interface OfReadings {
  readonly noiseN: number
  readonly periodS: number
  /** Readings that a sudden change takes; 1 where it is not known. */
  readonly settling: number
  /** Readings that stood still while the force went on. */
  readonly stuck: readonly { readonly from: number; readonly to: number }[]
}

/**
 * Speed of loading, backlash and stiffness. `forceN` is the recording's, without glitches, in newton above
 * the rest.
 */
export function byHand(recording: Recording, forceN: Float64Array, of: OfReadings): ByHand {
  const { noiseN } = of
  const { timeS, channels } = recording
  const travel = channels.find(c => c.kind === 'travel' || c.kind === 'extension')
  const travelMm = travel?.unit === 'mm' ? travel.values : null
  let top = 0
  for (let i = 1; i < forceN.length; i++) if (forceN[i]! > forceN[top]!) top = i
  const greatestN = forceN[top] ?? 0
  const none = {
    loadingNPerS: null,
    greatestN,
    backlashMm: null,
    backlashStandardMm: 0,
    stiffnessNPerMm: null,
  }
  if (!(greatestN > 20 * noiseN) || forceN.length < 20) return none
  const loop = travelMm === null ? null : loopWidth(timeS, forceN, travelMm, top, of)
  const stiffness = travelMm === null ? null : rigStiffness(forceN, travelMm, recording.name)
  return {
    loadingNPerS: fastestRise(timeS, forceN, top, noiseN),
    greatestN,
    backlashMm: loop?.mm ?? null,
    backlashStandardMm: loop?.standardMm ?? 0,
    stiffnessNPerMm: stiffness?.ok ? stiffness.value.nPerMm : null,
  }
}

/** Ninth decile of the slopes on the way up, over a quarter of a second each. */
function fastestRise(timeS: Float64Array, forceN: Float64Array, top: number, noiseN: number): number | null {
  const slopes: number[] = []
  for (let from = 0; from < top; ) {
    let to = from + 1
    while (to < top && timeS[to]! - timeS[from]! < SLOPE_S) to++
    if (to - from >= 2 && forceN[to - 1]! > 5 * noiseN)
      slopes.push(
        to - from >= 3 ? fitLine(timeS, forceN, from, to).slopeNPerS : slopeOf(timeS, forceN, from, to - 1),
      )
    from = to
  }
  const rising = Float64Array.from(slopes.filter(s => s > 0)).sort()
  return rising.length < 2 ? null : quantileSorted(rising, 0.9)
}

const slopeOf = (timeS: Float64Array, forceN: Float64Array, a: number, b: number): number =>
  (forceN[b]! - forceN[a]!) / (timeS[b]! - timeS[a]!)

/**
 * Travel on the way up less travel on the way back, at the same forces: the median over eleven of them, less
 * what the force lags behind the travel, which is told of a reading only to within one of them.
 */
function loopWidth(
  timeS: Float64Array,
  forceN: Float64Array,
  travelMm: Float64Array,
  top: number,
  { periodS, settling, stuck }: OfReadings,
): { mm: number; standardMm: number } | null {
  const greatest = forceN[top]!
  const isStuck = (i: number): boolean => stuck.some(s => i >= s.from && i < s.to)
  const crossings: { up: Crossing; back: Crossing }[] = []
  for (let k = 0; k < LEVELS; k++) {
    const atN = greatest * (FROM_SHARE + ((TO_SHARE - FROM_SHARE) * k) / (LEVELS - 1))
    const up = crossing(timeS, forceN, travelMm, top, -1, atN)
    const back = crossing(timeS, forceN, travelMm, top, 1, atN)
    // Where the reading stood still, the force that it shows is another than that of its travel.
    if (up !== null && back !== null && !isStuck(up.beside) && !isStuck(back.beside))
      crossings.push({ up, back })
  }
  if (crossings.length < 5) return null
  const widths = crossings.map(({ up, back }) => up.mm - back.mm)
  const sorted = Float64Array.from(widths).sort()
  const spread = (quantileSorted(sorted, 0.8413)! - quantileSorted(sorted, 0.1587)!) / 2
  const first = crossings[0]!
  const last = crossings.at(-1)!
  const bothMmPerS = speedBetween(first.up, last.up) + speedBetween(first.back, last.back)
  const mm = quantileSorted(sorted, 0.5)! - (bothMmPerS * settling * periodS) / 2
  const standardMm = Math.hypot((1.25 * spread) / Math.sqrt(widths.length), (bothMmPerS * periodS) / 8)
  return { mm, standardMm }
}

interface Crossing {
  readonly mm: number
  readonly atS: number
  /** The reading just beyond the level. */
  readonly beside: number
}

const speedBetween = (a: Crossing, b: Crossing): number =>
  a.atS === b.atS ? 0 : Math.abs((b.mm - a.mm) / (b.atS - a.atS))

/** Readings beyond a level, of so many from the first of them on, that are no chance of one. */
const STAYS = 5
const MOST_OF_THEM = 3

/** Where the force first passes a level and stays beyond, going from the top to one side. */
function crossing(
  timeS: Float64Array,
  forceN: Float64Array,
  travelMm: Float64Array,
  top: number,
  way: 1 | -1,
  atN: number,
): Crossing | null {
  for (let i = top + way; i >= 0 && i < forceN.length; i += way) {
    if (forceN[i]! > atN) continue
    let beyond = 0
    for (let k = 0; k < STAYS; k++) if (!(forceN[i + k * way]! > atN)) beyond++
    if (beyond < MOST_OF_THEM) continue
    const j = i - way
    const share = (forceN[j]! - atN) / (forceN[j]! - forceN[i]! || 1)
    const mm = travelMm[j]! + share * (travelMm[i]! - travelMm[j]!)
    return Number.isFinite(mm) ? { mm, atS: timeS[j]! + share * (timeS[i]! - timeS[j]!), beside: j } : null
  }
  return null
}
