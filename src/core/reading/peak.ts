import { lineAt, lineStandardN } from '../signal/line.ts'
import { readingNoiseN } from '../signal/noise.ts'
import { greatestAt } from '../signal/scan.ts'
import { firstAtOrAfter } from '../signal/search.ts'
import { type Drop, lineBefore, overGap } from './measureDrop.ts'
import { dropPriors } from './priors.ts'
import type { PullSpan } from './pulls.ts'
import { topPoint } from './topPoint.ts'

/** The greatest force of one pull, less its zero. */
export interface PullPeak {
  readonly valueN: number
  /** 95 % interval from noise and from what happens between two samples; the zero is not in it. */
  readonly lowN: number
  readonly highN: number
  readonly atS: number
  /** Greatest sample, its index in the working series, and its time. */
  readonly sampleN: number
  readonly sampleIndex: number
  readonly sampleS: number
  /** The record ends while the force still rises towards its greatest. */
  readonly rising: boolean
  /** It fell in a gap without samples. */
  readonly gap: boolean
}

export interface PeakOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  readonly jitterS: number
  /** Averaging of the converter, in periods. */
  readonly span: number
  /** Known from elsewhere: it averages over no more than its own period. */
  readonly settlesAtOnce?: boolean
}

interface Candidate {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
  readonly atS: number
}

/** The greatest of many readings lies this many standard deviations of the noise above the force. */
const CREDIBLE = 3.5

/** Where no drop shows the averaging, the converter may lag by so many periods more: it averages over four, not one. */
const UNSEEN_LAG = 1.5

/**
 * Greatest force of a pull, among the force before each drop, the top between drops and the end of a record that is
 * cut. Each candidate has its own interval; the greatest lies no lower than any of their lower ends.
 */
export function readPeak(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  drops: readonly Drop[],
  options: PeakOptions,
): PullPeak {
  const readingN = readingNoiseN(options.noiseN, options.quantumN)
  const own = drops.filter(drop => drop.from >= pull.from && drop.from < pull.to)
  const sampleIndex = greatestAt(loadN, pull.from, pull.to)
  // Only a drop as narrow as one can be shows over how much the converter averages.
  const lagSeen =
    options.settlesAtOnce === true || drops.some(d => d.to - d.from <= Math.max(1, options.span) + 1)
  const unseenLagN = (i: number): number =>
    lagSeen ? 0 : UNSEEN_LAG * Math.max(0, loadN[i]! - loadN[Math.max(pull.from, i - 2)]!) * 0.5
  const candidates: Candidate[] = own.map(d => {
    const readN = loadN[d.from]!
    const mostN = mostShownN(timeS, loadN, d, pull.from, options.periodS)
    // As far as the fall is abrupt the force went on growing up to it; a texture turns where it was read.
    const abrupt = overGap(timeS, d, options.periodS) ? 0 : abruptShare(d.ratio)
    const grownN = abrupt * (Math.min(d.beforeN, mostN) - readN)
    // Where the record stops in the fall nothing tells when it began: half of the growth is as likely as all.
    const valueN = readN + (d.stops ? grownN / 2 : grownN)
    return {
      valueN,
      lowN: Math.min(d.lowN, d.stops ? readN - 2 * readingN : valueN),
      highN: Math.max(
        valueN,
        readN + 2 * readingN,
        valueN + (abrupt + 0.1) * (d.highN + unseenLagN(d.from) - valueN),
      ),
      atS: d.atS,
    }
  })
  const end = pull.open ? atEnd(timeS, loadN, pull, own, readingN, options) : null
  if (end) candidates.push(end)
  const away = Math.max(1, options.span) + 1
  const top = topBetween(loadN, pull, own, { away, end: end !== null, readingN })
  if (top >= 0) {
    const after = own.find(d => d.from > top)
    const before = own.findLast(d => d.to < top)
    const point = topPoint(timeS, loadN, top, {
      from: before ? before.to : pull.from,
      to: after ? after.from + 1 : pull.to,
      span: options.span,
      periodS: options.periodS,
      jitterS: options.jitterS,
      noiseN: readingN,
    })
    // Where no drop follows, nothing tells that the force was greater than the greatest reading.
    const valueN = Math.min(point.valueN, loadN[top]!)
    candidates.push({
      ...point,
      valueN,
      lowN: Math.min(point.lowN, valueN),
      // A rough top may have stood higher between two readings, by half a step of the roughness.
      highN:
        Math.max(valueN + 2 * readingN, point.sharp ? valueN : point.highN) +
        0.5 * greatestStepN(loadN, top, pull),
    })
  }
  // What was read and is no glitch was there, but for the noise.
  const readN = loadN[sampleIndex]!
  if (candidates.every(c => c.valueN < readN - CREDIBLE * readingN))
    candidates.push({
      valueN: readN,
      lowN: readN - 2 * readingN,
      highN: readN + 2 * readingN,
      atS: timeS[sampleIndex]!,
    })
  let best = candidates[0]!
  for (const c of candidates) if (c.valueN > best.valueN) best = c
  return {
    valueN: best.valueN,
    lowN: Math.max(...candidates.map(c => c.lowN)),
    highN: Math.max(...candidates.map(c => c.highN)),
    atS: best.atS,
    sampleN: readN,
    sampleIndex,
    sampleS: timeS[sampleIndex]!,
    rising: best === end,
    gap: fellInGap(timeS, own, best.atS, options),
  }
}

/** The readings as they came, of which the working series may have block means. */
export interface Readings {
  readonly timeS: Float64Array
  /** Glitches taken out. */
  readonly forceN: Float64Array
  readonly noiseN: number
  readonly quantumN: number
}

/**
 * A top so brief that the block means of a fast recording flatten it: where a single reading of the pull stands above
 * the peak by more than noise, it was there.
 */
export function withBriefTop(
  peak: PullPeak,
  { timeS, forceN, noiseN, quantumN }: Readings,
  pull: { readonly fromS: number; readonly toS: number },
  zeroAtN: (tS: number) => number,
): PullPeak {
  const from = firstAtOrAfter(timeS, pull.fromS)
  const to = firstAtOrAfter(timeS, pull.toS)
  if (to <= from) return peak
  const top = greatestAt(forceN, from, to)
  const sampleS = timeS[top]!
  const sampleN = forceN[top]! - zeroAtN(sampleS)
  const readingN = readingNoiseN(noiseN, quantumN)
  if (!(sampleN - CREDIBLE * readingN > peak.valueN)) return peak
  return {
    ...peak,
    valueN: sampleN,
    lowN: Math.max(peak.lowN, sampleN - CREDIBLE * readingN),
    highN: Math.max(peak.highN, sampleN + 2 * readingN),
    atS: sampleS,
    sampleN,
    sampleS,
  }
}

/**
 * The greatest force that may be stated for a drop: a reading just before it, and what the force grew by in the step
 * before; over a gap only the reading.
 */
function mostShownN(
  timeS: Float64Array,
  loadN: Float64Array,
  { from, to }: Drop,
  first: number,
  periodS: number,
): number {
  const readN = Math.max(loadN[from]!, loadN[Math.max(first, from - 1)]!)
  if (overGap(timeS, { from, to }, periodS)) return readN
  let growthN = 0
  for (let i = Math.max(first + 1, from - 1); i <= from; i++)
    growthN = Math.max(growthN, loadN[i]! - loadN[i - 1]!)
  return readN + growthN
}

/** Greatest step between neighbouring readings within two of the top. */
function greatestStepN(loadN: Float64Array, top: number, { from, to }: PullSpan): number {
  let most = 0
  for (let i = Math.max(from, top - 2) + 1; i <= Math.min(to - 1, top + 2); i++)
    most = Math.max(most, Math.abs(loadN[i]! - loadN[i - 1]!))
  return most
}

/** How far a fall of this ratio to the rises nearby is abrupt: 0 for a texture, 1 for a break. */
const abruptShare = (ratio: number): number => 1 / (1 + (dropPriors.abruptRatio / ratio) ** 4)

/** The greatest sample that neither a drop nor the end of the record speaks for; −1 where there is none. */
function topBetween(
  loadN: Float64Array,
  pull: PullSpan,
  drops: readonly Drop[],
  { away, end, readingN }: { away: number; end: boolean; readingN: number },
): number {
  const last = end ? pull.to - 1 - away : pull.to
  let top = -1
  const take = (from: number, to: number): void => {
    if (from >= to) return
    const at = greatestAt(loadN, from, to)
    if (top < 0 || loadN[at]! > loadN[top]!) top = at
  }
  let from = pull.from
  for (const [k, drop] of drops.entries()) {
    const near = Math.min(last, Math.max(from, drop.from - away))
    take(from, near)
    from = Math.min(last, Math.max(near, drop.to + 1))
    for (let i = near; i < from; i++) {
      // What stands above the force before a drop that follows is a top of its own, from which smaller parts gave way.
      let spoken = false
      for (let j = k; !spoken && j < drops.length && drops[j]!.from - away <= i; j++)
        spoken = loadN[i]! <= drops[j]!.beforeN + 3 * readingN
      if (!spoken) take(i, i + 1)
    }
  }
  take(from, last)
  return top
}

/** Whether the drop at the peak has a hole of two periods and more in its samples. */
function fellInGap(
  timeS: Float64Array,
  drops: readonly Drop[],
  atS: number,
  { periodS }: PeakOptions,
): boolean {
  const drop = drops.find(d => d.atS === atS)
  if (!drop) return false
  for (let i = drop.from + 1; i <= drop.to; i++) if (timeS[i]! - timeS[i - 1]! > 2.5 * periodS) return true
  return false
}

/** Samples that the line to the end of a record may use: fewer, since the pace at the end is what counts. */
const END_SAMPLES = 6
/** How far the pace over what the last sample averages may differ from the pace before, as a share (common practice, no source). */
const END_PACE = 0.25

/** The force at the end of a record that is cut while it rises; `null` where it does not. */
function atEnd(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  drops: readonly Drop[],
  noiseN: number,
  { span, periodS }: PeakOptions,
): Candidate | null {
  const last = pull.to - 1
  const first = drops.at(-1)?.to ?? pull.from
  if (last - first < 2) return null
  const line = lineBefore(timeS, loadN, first, last, noiseN, END_SAMPLES)
  if (!(line.slopeNPerS * (timeS[last]! - line.atS) > noiseN)) return null
  // What is shown lags by half of what is averaged, and the force may have gone on for a period unseen.
  const lagS = (span * periodS) / 2
  const atS = timeS[last]! + lagS
  const valueN = lineAt(line, atS)
  const half = 2 * Math.hypot(lineStandardN(line, atS, noiseN), END_PACE * line.slopeNPerS * lagS)
  return {
    // No more is stated than was read: where the force went, the record does not show.
    valueN: Math.min(valueN, loadN[last]!),
    lowN: Math.min(valueN - half, loadN[last]!),
    highN: valueN + half + line.slopeNPerS * periodS,
    atS: timeS[last]!,
  }
}
