import { fitLine } from '../signal/line.ts'
import { readingNoiseN } from '../signal/noise.ts'
import { greatestAt } from '../signal/scan.ts'
import type { Explained } from './elements.ts'
import { loadingTime } from './ends.ts'
import { readBeside } from './measureDrop.ts'
import { dropPriors } from './priors.ts'
import type { PullSpan } from './pulls.ts'

interface FallOptions {
  readonly noiseN: number
  readonly quantumN: number
}

/** A fall has at least so many readings that show how it goes. */
const MIN_FALL_SAMPLES = 4
/** Chance that a record that stops in such a fall stopped because the specimen tore. */
const CONFIDENCE = 0.8

/**
 * The tear in which a record stops: its last readings fall, faster and faster, faster than the force had grown, and
 * by a good part of the force. What it would have come to is not known. `null` where the record does not end so.
 */
export function stoppedInFall(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  index: number,
  { noiseN, quantumN }: FallOptions,
): Explained | null {
  if (!pull.open) return null
  const readingN = readingNoiseN(noiseN, quantumN)
  const last = pull.to - 1
  let top = last
  while (top > pull.from && loadN[top - 1]! > loadN[top]! - 2 * readingN) top--
  top = greatestAt(loadN, top, pull.to)
  const lostN = loadN[top]! - loadN[last]!
  if (last - top < MIN_FALL_SAMPLES || lostN < dropPriors.stopShare * loadN[top]!) return null
  const middleS = timeS[halfWay(loadN, top, last)]!
  const [upperS, lowerS] = [middleS - timeS[top]!, timeS[last]! - middleS]
  const peakN = loadN[greatestAt(loadN, pull.from, pull.to)]!
  const grewNPerS = (0.8 * peakN) / loadingTime(timeS, loadN, pull)
  const fellNPerS = (0.5 * lostN) / lowerS
  if (upperS < dropPriors.tearQuickens * lowerS || fellNPerS < FASTER * grewNPerS) return null
  const fall = { from: cornerOf(timeS, loadN, top, last), to: last }
  return {
    kind: 'break',
    elements: null,
    confidence: CONFIDENCE,
    drop: {
      pull: index,
      ...fall,
      ...readBeside(timeS, loadN, fall, readingN),
      before: fitLine(timeS, loadN, top, fall.from + 1),
      after: fitLine(timeS, loadN, last, last + 1),
      readingN,
      cut: true,
      leavesNothing: false,
      clearness: 1,
      ratio: Number.POSITIVE_INFINITY,
      amongTeeth: false,
      stops: true,
    },
  }
}

/** A tear is at least this much faster than the loading, where the record stops in it. */
const FASTER = 1

/** Where the force has lost half of what it loses from `top` to `last`. */
function halfWay(loadN: Float64Array, top: number, last: number): number {
  const middleN = (loadN[top]! + loadN[last]!) / 2
  let i = top
  while (i < last && loadN[i]! > middleN) i++
  return i
}

/** Where a descent that quickens turns down: straight lines over as many readings on both sides leave least over. */
function cornerOf(timeS: Float64Array, loadN: Float64Array, top: number, last: number): number {
  const every = Math.max(1, Math.floor((last - top) / MAX_TRIED))
  const enough = (STRAIGHT_SHARE * (loadN[top]! - loadN[last]!)) ** 2
  let corner = top
  let least = Number.POSITIVE_INFINITY
  for (let i = last - MIN_SIDE; i >= top; i -= every) {
    const before = fitLine(timeS, loadN, Math.max(top, 2 * i - last), i + 1)
    const after = fitLine(timeS, loadN, i, last + 1)
    const over = (before.residualN2 + after.residualN2) / (before.n + after.n) + enough
    const turn = after.slopeNPerS - before.slopeNPerS
    if (over < least * turn ** 2) {
      least = over / turn ** 2
      corner = i
    }
  }
  return corner
}

/** A line that lies this near to the readings, as a share of what is lost, is straight enough. */
const STRAIGHT_SHARE = 0.02
/** Readings on either side of a corner, at least. */
const MIN_SIDE = 2
/** So many places of a corner are tried. */
const MAX_TRIED = 200
