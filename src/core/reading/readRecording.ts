import type { Recording } from '../recording.ts'
import { findOverRange } from '../signal/overRange.ts'
import { type Signal, signalSummary } from '../signal/summary.ts'
import { workingSeries } from '../signal/working.ts'
import { ENGINE_VERSION } from '../version.ts'
import { type Adjustment, amendmentsOf } from './adjustment.ts'
import type { Amendments } from './amendments.ts'
import { withoutCuts } from './cuts.ts'
import type { BudgetLine, PeakForce, Pull, Reading, ReadingEvent } from './document.ts'
import { findDrops } from './drops.ts'
import { type Explained, explainDrops } from './elements.ts'
import { type PullEnd, pullEnd } from './ends.ts'
import { type PullPeak, readPeak } from './peak.ts'
import { findPulls, type PullSpan, pullThresholdN } from './pulls.ts'
import { quietNoise, quietStretches } from './quiet.ts'
import { NEAR_PULL_S, strayAdjustments } from './replay.ts'
import { findRezeros } from './rezero.ts'
import { type Scale, scaleStandardN } from './scale.ts'
import { warningsOf } from './warnings.ts'
import { type Epoch, findZeros, lessZero, zeroLevelAt } from './zeros.ts'

export interface ReadingOptions {
  /** Equal elements of the specimen; `null` or left out where unknown. */
  readonly elements?: number | null
  readonly specimen?: Reading['specimen']
  readonly scale?: Scale | null
  /** Greatest force that the cell may read, and greatest travel of the rig. */
  readonly capacityN?: number | null
  readonly strokeMm?: number | null
  /** 1 = normal; twice as much finds drops half as large. */
  readonly sensitivity?: number
  /** What a person changed, in order; replayed, never baked in. */
  readonly adjustments?: readonly Adjustment[]
}

/**
 * What a recording is taken to mean: zeros, pulls, events, the peak with its doubt, warnings.
 * Never throws for a recording as `logs` makes them, and never changes it. Adjustments stand in the reading that
 * they made; one that finds nothing to change is a warning.
 */
export function readRecording(recording: Recording, options: ReadingOptions = {}): Reading {
  const adjustments = options.adjustments ?? []
  const reading = readOnce(recording, options)
  if (adjustments.length === 0) return reading
  const plain = readOnce(recording, { ...options, adjustments: [] })
  const warnings = [...reading.warnings, ...strayAdjustments(adjustments, plain, reading)]
  return { ...reading, warnings, adjustments: [...adjustments] }
}

function readOnce(recording: Recording, options: ReadingOptions): Reading {
  const amendments = amendmentsOf(options.adjustments ?? [])
  const elements = amendments.elements !== undefined ? amendments.elements : (options.elements ?? null)
  const sensitivity = amendments.sensitivity ?? options.sensitivity ?? 1
  const source = withoutCuts(recording, amendments.cuts)
  const rough = signalSummary(source)
  const series = workingSeries(
    source.timeS,
    rough.forceN,
    source.segments,
    rough.rateHz,
    rough.gaps.map(g => g.from),
  )
  const { timeS, forceN, segments } = series
  const first = paceOf(rough, series.block)
  const noiseN = quietNoise(quietStretches(timeS, forceN, segments, first))
  const signal = noiseN === null ? rough : { ...rough, noiseN: noiseN * Math.sqrt(series.block) }
  const pace = paceOf(signal, series.block)
  const quiets = quietStretches(timeS, forceN, segments, pace)
  const rezeros = findRezeros(timeS, forceN, segments, pace, quiets)
  const { epochs, zeros } = findZeros({ timeS, forceN, segments, signal: pace, quiets, rezeros, amendments })
  const loadN = lessZero(timeS, forceN, epochs)
  const greatestN = greatest(loadN)
  const thresholdN = pullThresholdN(greatestN, signal.noiseN, signal.quantumN)
  const pulls = kept(findPulls(timeS, loadN, segments, thresholdN, epochs), timeS, amendments)
  const overRange = findOverRange(signal.forceN, {
    ...signal,
    zeroN: epochs[0] ? zeroLevelAt(epochs[0], 0) : 0,
  })
  const { drops, span } = findDrops(timeS, loadN, pulls, segments, {
    ...pace,
    greatestN,
    thresholdN,
    sensitivity,
  })
  const explained = explainDrops(drops, { elements, labels: amendments.labels, periodS: pace.periodS })
  const peaks = pulls.map(pull => readPeak(timeS, loadN, pull, drops, { ...pace, span }))
  const main = mainPull(peaks)
  const peakForce = peakOf(main < 0 ? null : peaks[main]!, epochs, timeS, forceN, pace, options)
  const document: Omit<Reading, 'warnings'> = {
    document: 'tenterhook.reading',
    version: 1,
    engine: ENGINE_VERSION,
    specimen: options.specimen ?? null,
    recording: summaryOf(source, signal, overRange),
    zeros: [...zeros],
    pulls: pulls.map((pull, k) => pullOf(pull, peaks[k]!, pullEnd(timeS, loadN, pull, explained), timeS)),
    events: [
      ...explained.map(eventOf),
      ...rezeros.map(
        (r): ReadingEvent => ({
          kind: 'rezero',
          atS: r.atS,
          beforeN: r.beforeN,
          afterN: r.afterN,
          dropN: r.beforeN - r.afterN,
          elements: null,
          confidence: 0.95,
        }),
      ),
    ].sort((a, b) => a.atS - b.atS),
    results: {
      peakForce: peakForce.peak,
      partialBreaks: explained.filter(e => e.kind === 'partial-break').length,
      laterPeaks: laterPeaks(pulls, peaks, main, explained),
      timeToPeakS: main < 0 ? null : peaks[main]!.atS - timeS[pulls[main]!.from]!,
      stiffness: null,
      work: null,
    },
    budget: peakForce.budget,
  }
  return {
    ...document,
    warnings: warningsOf(document, { epochs, recording: source, calibrated: options.scale != null }),
  }
}

/** Rate and doubts of the working series: noise and display step are less in a mean of `block` samples. */
const paceOf = (
  { periodS, jitterS, noiseN, quantumN }: Signal,
  block: number,
): Pick<Signal, 'periodS' | 'jitterS' | 'noiseN' | 'quantumN'> => ({
  periodS: periodS * block,
  jitterS: jitterS / Math.sqrt(block),
  noiseN: noiseN / Math.sqrt(block),
  quantumN: quantumN / block,
})

function greatest(values: Float64Array): number {
  let most = 0
  for (let i = 0; i < values.length; i++) if (values[i]! > most) most = values[i]!
  return most
}

/** Pulls that no adjustment has dropped. */
function kept(pulls: readonly PullSpan[], timeS: Float64Array, { droppedPulls }: Amendments): PullSpan[] {
  const out = [...pulls]
  for (const { atS } of droppedPulls) {
    const away = out.map(p => Math.max(0, timeS[p.from]! - atS, atS - timeS[p.to - 1]!))
    const least = Math.min(...away)
    if (least <= NEAR_PULL_S) out.splice(away.indexOf(least), 1)
  }
  return out
}

function mainPull(peaks: readonly PullPeak[]): number {
  let main = -1
  peaks.forEach((peak, k) => {
    if (main < 0 || peak.valueN > peaks[main]!.valueN) main = k
  })
  return main
}

function summaryOf(
  { name, sha256, timeS, forceUnit, timeFrom, understood, segments }: Recording,
  signal: Signal,
  overRange: { limitN: number; count: number } | null,
): Reading['recording'] {
  return {
    name,
    sha256,
    samples: timeS.length,
    startS: timeS[0] ?? 0,
    endS: timeS.at(-1) ?? 0,
    rateHz: signal.rateHz,
    noiseN: signal.noiseN,
    quantumN: signal.quantumN,
    forceUnit,
    timeFrom,
    gaps: signal.gaps.map(({ fromS, toS }) => ({ fromS, toS })),
    spikes: signal.spikes.map(({ atS }) => ({ atS })),
    overRange: overRange && { limitN: overRange.limitN, count: overRange.count },
    understood,
    segments: segments.map(s => ({
      fromS: timeS[s.from] ?? 0,
      toS: timeS[s.to - 1] ?? 0,
      name: s.name,
      sha256: s.sha256,
      began: s.began,
      shiftS: s.shiftS,
    })),
  }
}

function pullOf(pull: PullSpan, peak: PullPeak, ends: PullEnd, timeS: Float64Array): Pull {
  return {
    startS: timeS[pull.from]!,
    endS: timeS[pull.to - 1]!,
    peakS: peak.atS,
    peakN: peak.valueN,
    uncertaintyN: (peak.highN - peak.lowN) / 2,
    ends,
  }
}

function eventOf({ drop, kind, elements, confidence }: Explained): ReadingEvent {
  return {
    kind,
    atS: drop.atS,
    beforeN: drop.beforeN,
    afterN: drop.afterN,
    dropN: drop.beforeN - drop.afterN,
    elements,
    confidence,
  }
}

function laterPeaks(
  pulls: readonly PullSpan[],
  peaks: readonly PullPeak[],
  main: number,
  explained: readonly Explained[],
): Reading['results']['laterPeaks'] {
  return pulls.flatMap((_, k) =>
    k > main && explained.some(e => e.drop.pull === k && e.kind === 'break')
      ? [
          {
            valueN: peaks[k]!.valueN,
            uncertaintyN: (peaks[k]!.highN - peaks[k]!.lowN) / 2,
            atS: peaks[k]!.atS,
            pull: k,
          },
        ]
      : [],
  )
}

function peakOf(
  peak: PullPeak | null,
  epochs: readonly Epoch[],
  timeS: Float64Array,
  forceN: Float64Array,
  { noiseN, quantumN }: { noiseN: number; quantumN: number },
  { scale }: ReadingOptions,
): { peak: PeakForce; budget: BudgetLine[] } {
  if (!peak) {
    return {
      peak: {
        status: 'not-recorded',
        valueN: null,
        uncertaintyN: null,
        lowN: null,
        highN: null,
        covers: [],
        atS: null,
        indicatedN: null,
      },
      budget: [],
    }
  }
  const epoch = epochs.find(e => peak.sampleIndex >= e.from && peak.sampleIndex < e.to)!
  const levelN = zeroLevelAt(epoch, timeS[peak.sampleIndex]!)
  const zeroStandardN = Math.hypot(epoch.standardN, epoch.movedN / Math.sqrt(12))
  const noiseStandardN = Math.min(noiseN, (peak.highN - peak.lowN) / 4)
  const between = Math.sqrt(Math.max(0, ((peak.highN - peak.lowN) / 4) ** 2 - noiseStandardN ** 2))
  const budget: BudgetLine[] = [
    { source: 'noise', standardN: noiseStandardN, correctionN: 0, shared: 'none' },
    { source: 'display step', standardN: quantumN / Math.sqrt(12), correctionN: 0, shared: 'none' },
    { source: 'zero', standardN: zeroStandardN, correctionN: -levelN, shared: 'recording' },
    {
      source: 'between samples',
      standardN: between,
      correctionN: peak.valueN - peak.sampleN,
      shared: 'none',
    },
  ]
  if (scale) {
    budget.push({
      source: scale.source,
      standardN: scaleStandardN(scale, peak.valueN),
      correctionN: 0,
      shared: scale.shared,
    })
  }
  const half = 2 * Math.sqrt(budget.reduce((sum, { standardN }) => sum + standardN ** 2, 0))
  return {
    peak: {
      status: peak.rising ? 'at-least' : 'measured',
      valueN: peak.valueN,
      uncertaintyN: half,
      lowN: peak.valueN - Math.hypot(peak.valueN - peak.lowN, 2 * zeroStandardN),
      highN: peak.valueN + Math.hypot(peak.highN - peak.valueN, 2 * zeroStandardN),
      covers: ['noise', 'display step', 'zero', 'between samples', ...(scale ? ['calibration'] : [])],
      atS: peak.atS,
      indicatedN: forceN[peak.sampleIndex]!,
    },
    budget,
  }
}
