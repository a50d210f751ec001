import type { Channel, Recording } from '../recording.ts'
import { firstAtOrAfter } from '../signal/search.ts'
import { amendmentsOf } from './adjustment.ts'
import type { Amendments } from './amendments.ts'
import { correctedForce } from './correctedForce.ts'
import type { Pull, Reading } from './document.ts'

export { correctedForce } from './correctedForce.ts'

/** The pulls of one specimen as one curve. Arrays have one value a point. */
export interface JoinedCurve {
  /** What the force is drawn against: how far the specimen or the grips came, or how long it was loaded. */
  readonly against: 'extension' | 'travel' | 'loading-time'
  readonly unit: 'mm' | 's'
  readonly along: Float64Array
  /** Less the zero of its time. */
  readonly forceN: Float64Array
  /** The sample that each point is. */
  readonly sample: Uint32Array
  /** Where a pull was joined to the one before: the first point of it, and its place among the pulls. */
  readonly joins: readonly { readonly point: number; readonly pull: number }[]
}

export interface JoinedCurveOptions {
  /** Draw against loading time even where extension or travel is known. */
  readonly againstTime?: boolean
}

/** Points after a break that show the fall. */
const FALL_SAMPLES = 2

interface Stretch {
  readonly pull: number
  readonly from: number
  readonly to: number
}

/**
 * Force against extension, else against travel of the grips, else against loading time, from all pulls of a
 * specimen in order. Rests and unloads are left out. A pull that goes on where the one before was let down joins it
 * where it has come back to the force at which that was left; any other pull joins at its start.
 * Shifts and cuts among the reading's adjustments are replayed.
 */
export function joinedCurve(
  recording: Recording,
  reading: Reading,
  { againstTime = false }: JoinedCurveOptions = {},
): JoinedCurve {
  const loadN = correctedForce(recording, reading)
  const amendments = amendmentsOf(reading.adjustments ?? [])
  const channel = againstTime ? null : lengthChannel(recording, reading)
  const ownAlong = channel ? forward(channel.values, recording, reading) : recording.timeS
  const stretches = stretchesOf(recording, reading, loadN)
  const along: number[] = []
  const force: number[] = []
  const sample: number[] = []
  const joins: { point: number; pull: number }[] = []
  let last: Stretch | null = null
  for (const stretch of stretches) {
    const from = last ? joinFrom(stretch, last, reading.pulls, loadN) : stretch.from
    const start = along.length
    const offset = offsetOf(stretch, from, last, along, {
      own: ownAlong,
      isLength: channel !== null,
      recording,
      reading,
    })
    if (last) joins.push({ point: start, pull: stretch.pull })
    for (let i = from; i < stretch.to; i++) {
      const x = ownAlong[i]!
      if (Number.isNaN(x) || isCut(recording.timeS[i]!, amendments)) continue
      along.push(x - offset + shiftOf(recording.timeS[i]!, amendments, channel !== null))
      force.push(loadN[i]!)
      sample.push(i)
    }
    last = stretch
  }
  return {
    against: channel ? (channel.kind === 'extension' ? 'extension' : 'travel') : 'loading-time',
    unit: channel ? 'mm' : 's',
    along: Float64Array.from(along),
    forceN: Float64Array.from(force),
    sample: Uint32Array.from(sample),
    joins: joins.filter(j => j.point < along.length),
  }
}

/** Extension before travel; only one that is known over most of the pulls, and moves. */
function lengthChannel({ channels, timeS }: Recording, { pulls }: Reading): Channel | null {
  const usable = (c: Channel): boolean => {
    let known = 0
    let all = 0
    for (const pull of pulls)
      for (let i = firstAtOrAfter(timeS, pull.startS); i < timeS.length && timeS[i]! <= pull.endS; i++) {
        all++
        if (Number.isFinite(c.values[i]!)) known++
      }
    return all > 0 && known > all / 2 && travelled(c.values) > 0
  }
  const kinds = ['extension', 'travel'] as const
  for (const kind of kinds) {
    const found = channels.find(c => c.kind === kind && c.unit === 'mm' && usable(c))
    if (found) return found
  }
  return null
}

function travelled(values: Float64Array): number {
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const v of values) {
    if (v < least) least = v
    if (v > most) most = v
  }
  return most > least ? most - least : 0
}

/** The channel counted so that it grows while the force does. */
function forward(values: Float64Array, { timeS }: Recording, { pulls }: Reading): Float64Array {
  let grown = 0
  for (const pull of pulls) {
    const a = values[firstAtOrAfter(timeS, pull.startS)]!
    const b = values[Math.min(firstAtOrAfter(timeS, pull.peakS), values.length - 1)]!
    if (Number.isFinite(a) && Number.isFinite(b)) grown += b - a
  }
  return grown < 0 ? values.map(v => -v) : values
}

/** The loading part of every pull: from its start to its end, or to where it began to be let down. */
function stretchesOf({ timeS, segments }: Recording, { pulls }: Reading, loadN: Float64Array): Stretch[] {
  return pulls.map((pull, k) => {
    const from = firstAtOrAfter(timeS, pull.startS)
    const end = Math.min(timeS.length - 1, firstAtOrAfter(timeS, pull.endS))
    if (pull.ends === 'unload') return { pull: k, from, to: letDownFrom(timeS, loadN, pull, end) + 1 }
    const segmentEnd = segments.find(s => end >= s.from && end < s.to)?.to ?? timeS.length
    const fall = pull.ends === 'break' ? FALL_SAMPLES : 0
    return { pull: k, from, to: Math.min(end + 1 + fall, segmentEnd) }
  })
}

/** Where the letting down begins: the point highest above the straight line from the peak to the end of the pull. */
function letDownFrom(timeS: Float64Array, loadN: Float64Array, pull: Pull, end: number): number {
  const peak = Math.min(end, firstAtOrAfter(timeS, pull.peakS))
  const spanS = timeS[end]! - timeS[peak]!
  let knee = peak
  let most = 0
  for (let i = peak; i <= end; i++) {
    const share = spanS > 0 ? (timeS[i]! - timeS[peak]!) / spanS : 0
    const above = loadN[i]! - (loadN[peak]! + share * (loadN[end]! - loadN[peak]!))
    if (above > most) {
      most = above
      knee = i
    }
  }
  return knee
}

/** First sample of a pull that belongs to the curve: past the force at which the pull before was let down. */
function joinFrom(stretch: Stretch, last: Stretch, pulls: readonly Pull[], loadN: Float64Array): number {
  if (pulls[last.pull]!.ends !== 'unload') return stretch.from
  const leftN = loadN[last.to - 1]!
  for (let i = stretch.from; i < stretch.to; i++) if (loadN[i]! >= leftN) return i
  return stretch.from
}

interface Axis {
  readonly own: Float64Array
  readonly isLength: boolean
  readonly recording: Recording
  readonly reading: Reading
}

/** What is taken from a stretch's own time or length so that it follows on from what stands already. */
function offsetOf(
  stretch: Stretch,
  from: number,
  last: Stretch | null,
  along: readonly number[],
  { own, isLength, recording, reading }: Axis,
): number {
  let first = from
  while (first < stretch.to && Number.isNaN(own[first]!)) first++
  const ownStart = own[first] ?? 0
  if (!last || along.length === 0) return ownStart
  const endsAt = along.at(-1)!
  if (!isLength) {
    const periodS = reading.recording.rateHz > 0 ? 1 / reading.recording.rateHz : 0
    return ownStart - endsAt - periodS
  }
  // Grips that were not opened in between keep their own measure; after a re-grip only the join is known.
  const { timeS } = recording
  const lastS = timeS[last.to - 1]!
  const startS = timeS[stretch.from]!
  const opened =
    reading.events.some(e => e.kind === 'regrip' && e.atS >= lastS && e.atS <= startS) ||
    reading.recording.segments.some(s => s.began !== 'start' && s.fromS > lastS && s.fromS <= startS)
  if (opened) return ownStart - endsAt
  let end = last.to - 1
  while (end > last.from && Number.isNaN(own[end]!)) end--
  return own[end]! - endsAt
}

const isCut = (atS: number, { cuts }: Amendments): boolean =>
  cuts.some(cut => atS >= cut.fromS && atS <= cut.toS)

function shiftOf(atS: number, { shifts }: Amendments, isLength: boolean): number {
  let by = 0
  for (const shift of shifts)
    if (atS >= shift.fromS && atS <= shift.toS) by += (isLength ? shift.byMm : shift.byS) ?? 0
  return by
}
