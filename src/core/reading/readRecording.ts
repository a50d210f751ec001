import type { Recording } from '../recording.ts'
import { ENGINE_VERSION } from '../version.ts'
import { type Adjustment, amendmentsOf } from './adjustment.ts'
import { type Analysis, analyse } from './analyse.ts'
import { withoutCuts } from './cuts.ts'
import type { Pull, Reading } from './document.ts'
import { eventsOf } from './events.ts'
import { type KnownRig, SETTLES_AT_ONCE } from './knownRig.ts'
import { mainPull, peakForce, zeroStandardN } from './peakForce.ts'
import { strayAdjustments } from './replay.ts'
import { mainResults } from './results.ts'
import { withSayers } from './saidBy.ts'
import type { Scale } from './scale.ts'
import { warningsOf } from './warnings.ts'
import { epochAt } from './zero/epoch.ts'

export interface ReadingOptions {
  /** Equal elements of the specimen; `null` or left out where unknown. */
  readonly elements?: number | null
  readonly specimen?: Reading['specimen']
  readonly scale?: Scale | null
  /** What a check of the rig found: doubts that this record may not show by itself. */
  readonly known?: KnownRig | null
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
  // A second reading without adjustments, made only where one of them names a pull or a drop.
  let plain: Reading | null = null
  const plainReading = (): Reading => {
    plain ??= readOnce(recording, { ...options, adjustments: [] })
    return plain
  }
  const span = { startS: recording.timeS[0] ?? 0, endS: recording.timeS.at(-1) ?? 0 }
  const stray = strayAdjustments(adjustments, { span, plainReading, adjusted: reading })
  const warnings = [...reading.warnings, ...stray]
  return { ...reading, warnings, adjustments: [...adjustments] }
}

function readOnce(recording: Recording, options: ReadingOptions): Reading {
  const amendments = amendmentsOf(options.adjustments ?? [])
  const elements = amendments.elements !== undefined ? amendments.elements : (options.elements ?? null)
  const sensitivity = amendments.sensitivity ?? options.sensitivity ?? 1
  const source = withoutCuts(recording, amendments.cuts)
  const settlesAtOnce = (options.known?.settlingReadings ?? Number.POSITIVE_INFINITY) < SETTLES_AT_ONCE
  const analysis = analyse(source, {
    elements,
    sensitivity,
    amendments,
    settlesAtOnce,
    ...(options.known ? { wild: options.known.wild } : {}),
  })
  const main = mainPull(analysis.peaks)
  const { peak, budget } = peakForce(analysis, {
    scale: options.scale ?? null,
    known: options.known ?? null,
    capacityN: options.capacityN ?? null,
    strokeReached: strokeReached(source, options.strokeMm ?? null),
  })
  const summary = summaryOf(source, analysis)
  const { events, zeros } = withSayers(
    { events: eventsOf(analysis), zeros: [...analysis.zero.zeros], recording: summary },
    options.adjustments ?? [],
  )
  const reading: Omit<Reading, 'warnings'> = {
    document: 'tenterhook.reading',
    version: 2,
    engine: ENGINE_VERSION,
    specimen: options.specimen ?? null,
    recording: summary,
    zeros,
    pulls: pullsOf(analysis),
    events,
    results: {
      peakForce: peak,
      partialBreaks: events.filter(e => e.kind === 'partial-break').length,
      laterPeaks: laterPeaks(analysis, main),
      ...mainResults(analysis),
    },
    budget,
  }
  return {
    ...reading,
    warnings: warningsOf(reading, analysis, source, {
      isCalibrated: options.scale != null,
      check: options.known?.source ?? null,
    }),
  }
}

/** A rig is at the end of its stroke when its travel comes within a hundredth of it. */
function strokeReached({ channels }: Recording, strokeMm: number | null): boolean {
  const travel = channels.find(c => c.kind === 'travel' && c.unit === 'mm')
  if (!travel || strokeMm === null) return false
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const mm of travel.values) {
    if (mm < least) least = mm
    if (mm > most) most = mm
  }
  return most - least >= 0.99 * strokeMm
}

function summaryOf(
  { name, sha256, timeS, forceUnit, timeFrom, understood, segments, assumptions }: Recording,
  { signal, overRange }: Analysis,
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
    linesNotRead: assumptions.reduce((sum, { lines }) => sum + (lines?.count ?? 0), 0),
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

const pullsOf = ({ pulls, peaks, ends, series, zero }: Analysis): Pull[] =>
  pulls.map((pull, k) => {
    const peak = peaks[k]!
    const epoch = epochAt(zero.epochs, peak.sampleIndex)
    const zeroHalf = epoch ? 2 * zeroStandardN(epoch, peak.atS) : 0
    return {
      startS: series.timeS[pull.from]!,
      endS: series.timeS[pull.to - 1]!,
      peakS: peak.atS,
      peakN: peak.valueN,
      uncertaintyN: epoch?.unseen ? null : Math.hypot((peak.highN - peak.lowN) / 2, zeroHalf),
      ends: ends[k]!,
    }
  })

/** Pulls after the main one that end in a break of their own. */
function laterPeaks(analysis: Analysis, main: number): Reading['results']['laterPeaks'] {
  return pullsOf(analysis).flatMap(({ peakN, uncertaintyN, peakS, ends }, k) =>
    k > main && ends === 'break' ? [{ valueN: peakN, uncertaintyN, atS: peakS, pull: k }] : [],
  )
}
