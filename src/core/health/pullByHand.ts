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

/** Speed of loading, backlash and stiffness. `forceN` is the recording's, without glitches, in newton above the rest. */
export function byHand(recording: Recording, forceN: Float64Array, noiseN: number): ByHand {
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
  const loop = travelMm === null ? null : loopWidth(forceN, travelMm, top)
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

/** Travel on the way up less travel on the way back, at the same forces: the median over eleven of them. */
function loopWidth(
  forceN: Float64Array,
  travelMm: Float64Array,
  top: number,
): { mm: number; standardMm: number } | null {
  const greatest = forceN[top]!
  const widths: number[] = []
  for (let k = 0; k < LEVELS; k++) {
    const atN = greatest * (FROM_SHARE + ((TO_SHARE - FROM_SHARE) * k) / (LEVELS - 1))
    const up = crossing(forceN, travelMm, top, -1, atN)
    const back = crossing(forceN, travelMm, top, 1, atN)
    if (up !== null && back !== null) widths.push(up - back)
  }
  if (widths.length < 5) return null
  const sorted = Float64Array.from(widths).sort()
  const mm = quantileSorted(sorted, 0.5)!
  const spread = (quantileSorted(sorted, 0.8413)! - quantileSorted(sorted, 0.1587)!) / 2
  return { mm, standardMm: (1.25 * spread) / Math.sqrt(widths.length) }
}

/** Travel where the force first passes a level, going from the top to one side. */
function crossing(
  forceN: Float64Array,
  travelMm: Float64Array,
  top: number,
  way: 1 | -1,
  atN: number,
): number | null {
  for (let i = top + way; i >= 0 && i < forceN.length; i += way) {
    if (forceN[i]! > atN) continue
    const j = i - way
    const share = (forceN[j]! - atN) / (forceN[j]! - forceN[i]! || 1)
    const mm = travelMm[j]! + share * (travelMm[i]! - travelMm[j]!)
    return Number.isFinite(mm) ? mm : null
  }
  return null
}
