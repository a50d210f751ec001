import { fine, type Outcome, wrong } from '../problem.ts'
import type { Scale } from '../reading/scale.ts'
import type { Channel, Recording } from '../recording.ts'
import { fromNewton, type LogForceUnit, ownScaleOf, parseForceUnit } from '../units/force.ts'
import { ageWarnings } from './calibrationAge.ts'
import { chosenWarnings } from './chosen.ts'
import type { Warning } from './document.ts'
import { polynomialAt } from './polynomial.ts'
import type { Rig, RigCalibration } from './rig.ts'
import { calibrationName, scaleOfCalibration } from './rigScale.ts'

export interface RigApplied {
  readonly recording: Recording
  /** Doubt of the scale; `null` where no calibration could be used. */
  readonly scale: Scale | null
  /** The calibration used. */
  readonly calibration: RigCalibration | null
  readonly warnings: readonly Warning[]
}

/**
 * A recording as its rig makes it: readings into newton by the latest calibration not after `atDate` (`2026-05-03`; all
 * calibrations where not given), extension less the rig's own stretch, and what must be warned of. Its sign is to be
 * settled before. Raw counts that no calibration fits stay counts. `chosen`: the one of its calibrations that a person
 * chose, whatever its day.
 */
export function withRig(
  recording: Recording,
  rig: Rig,
  atDate?: string,
  chosen: RigCalibration | null = null,
): RigApplied {
  const calibration = calibrationFor(rig, recording.forceUnit, atDate, chosen)
  const forceN = calibration === null ? recording.forceN : converted(recording, calibration)
  const scaled: Recording =
    calibration === null
      ? recording
      : {
          ...recording,
          forceN,
          forceUnit: recording.forceUnit === 'counts' ? 'N' : recording.forceUnit,
          understood: `${recording.understood}; ${calibrationName(calibration)} applied`,
        }
  const isForce = ownScaleOf(scaled.forceUnit) === null
  return {
    recording: { ...scaled, channels: isForce ? stretched(scaled, rig) : inMm(scaled, rig) },
    scale: calibration === null ? null : scaleOfCalibration(calibration, rig),
    calibration,
    warnings: [
      ...unusedWarnings(rig, calibration, recording.forceUnit, chosen),
      ...(chosen === null || calibration === null
        ? []
        : chosenWarnings(chosen, calibrationFor(rig, recording.forceUnit, atDate), atDate)),
      ...ageWarnings(rig, calibration, atDate),
      ...(isForce ? forceWarnings(rig, calibration, forceN) : []),
    ],
  }
}

/** As `withRig`, for work that needs a force. Problem: the log's numbers are none, and the rig cannot make them one. */
export function applyRig(recording: Recording, rig: Rig, atDate?: string): Outcome<RigApplied> {
  const applied = withRig(recording, rig, atDate)
  const scale = ownScaleOf(applied.recording.forceUnit)
  if (scale === null) return fine(applied)
  const { what, cure } = noCalibration(rig, recording.forceUnit, atDate)
  return wrong({
    where: recording.name,
    what: `${scale === 'counts' ? 'the log is in counts' : 'the log does not say its unit of force'}, and ${what}`,
    cure,
    code: 'counts-not-calibrated',
  })
}

/** Why `calibrationFor` finds none, and what to do: there is none of such readings, or those that there are are later. */
export function noCalibration(
  rig: Rig,
  unit: LogForceUnit | null,
  atDate?: string,
): { readonly what: string; readonly cure: string } {
  const later = calibrationFor(rig, unit)
  if (later === null)
    return {
      what: `${rig.name} has no calibration of it.`,
      cure: 'Calibrate the rig first, with known loads or at least one known mass.',
    }
  return {
    what: `the ${calibrationName(later)} of ${rig.name} is later than ${atDate}, and there is none before.`,
    cure: 'Give the right day, or correct that of the calibration.',
  }
}

/**
 * Whether a pull raises the reading that a calibration turns into a force; `null` where it cannot know, as it was made
 * without a load.
 */
export function risesWithReading(calibration: RigCalibration): boolean | null {
  if (calibration.document === 'tenterhook.quick-scale')
    return calibration.basis === 'one-mass' ? calibration.newtonPerReading > 0 : null
  const readings = calibration.points.map(({ reading }) => reading)
  const [low, high] = [Math.min(...readings), Math.max(...readings)]
  return forceByCalibration(calibration, high) > forceByCalibration(calibration, low)
}

/**
 * The latest calibration that is not after the date and whose readings can be had from the log's unit; where a person
 * chose one, that one, if its readings can be had so.
 */
export function calibrationFor(
  rig: Rig,
  unit: LogForceUnit | null,
  atDate?: string,
  chosen: RigCalibration | null = null,
): RigCalibration | null {
  if (unit === null) return null
  const fitting = (chosen === null ? rig.calibrations : [chosen])
    .filter(c => (parseForceUnit(c.readingUnit) === 'counts') === (unit === 'counts'))
    .filter(c => chosen !== null || atDate === undefined || c.date <= atDate)
  return fitting.reduce<RigCalibration | null>(
    (latest, c) => (latest === null || c.date >= latest.date ? c : latest),
    null,
  )
}

/** Newton from a reading in the calibration's own unit. */
export const forceByCalibration = (calibration: RigCalibration, reading: number): number =>
  calibration.document === 'tenterhook.calibration'
    ? polynomialAt(calibration.coefficients, reading)
    : calibration.newtonPerReading * (reading - calibration.zeroReading)

function converted(recording: Recording, calibration: RigCalibration): Float64Array {
  const unit = parseForceUnit(calibration.readingUnit)
  // A recording's forceN holds counts as they are and forces in newton.
  if (unit === null || unit === 'counts' || unit === 'N')
    return recording.forceN.map(reading => forceByCalibration(calibration, reading))
  return recording.forceN.map(forceN => forceByCalibration(calibration, fromNewton(forceN, unit)))
}

/**
 * Channels with the rig's own stretch taken off extension measured at the drive: travel − (F − F at the start)/stiffness.
 * Holds while the rig is elastic. Travel itself stays as it is, and gives an extension where the log has none.
 */
function stretched({ channels, forceN }: Recording, rig: Rig): readonly Channel[] {
  const { stiffness, extensionAt } = rig
  const lengths = inMm({ channels }, rig)
  if (stiffness === undefined || extensionAt === 'specimen') return lengths
  const startN = forceN[0] ?? 0
  const less = (values: Float64Array) => values.map((mm, i) => mm - (forceN[i]! - startN) / stiffness.nPerMm)
  const hasExtension = lengths.some(c => c.kind === 'extension' && c.unit === 'mm')
  return lengths.flatMap((channel): Channel[] => {
    if (channel.unit !== 'mm') return [channel]
    if (channel.kind === 'extension') return [{ ...channel, values: less(channel.values) }]
    if (channel.kind === 'travel' && !hasExtension)
      return [
        channel,
        {
          name: `extension from ${channel.name}`,
          kind: 'extension',
          unit: 'mm',
          values: less(channel.values),
        },
      ]
    return [channel]
  })
}

const inMm = ({ channels }: Pick<Recording, 'channels'>, { drive }: Rig): readonly Channel[] =>
  channels.map(channel => turnsInMm(channel, drive.mmPerTurn))

/** A channel that counts turns of the drive, in mm where the pitch is known. */
function turnsInMm(channel: Channel, mmPerTurn: number | undefined): Channel {
  if (mmPerTurn === undefined || !/^(turns?|rev(olution)?s?)$/i.test(channel.unit)) return channel
  return { ...channel, kind: 'travel', unit: 'mm', values: channel.values.map(turns => turns * mmPerTurn) }
}

function unusedWarnings(
  rig: Rig,
  calibration: RigCalibration | null,
  unit: LogForceUnit | null,
  chosen: RigCalibration | null,
): Warning[] {
  if (calibration !== null || rig.calibrations.length === 0) return []
  if (chosen !== null)
    return [
      {
        code: 'calibration-not-used',
        text: `The ${calibrationName(chosen)} that was chosen is one of readings in ${chosen.readingUnit}, and the log ${unit === null ? 'does not tell its unit' : `is in ${unit}`}: it could not be used, and the scale stays unchecked.`,
      },
    ]
  const later = calibrationFor(rig, unit)
  return [
    {
      code: 'calibration-not-used',
      text: `${rig.name} has no calibration for a log ${unit === null ? 'that does not tell its unit' : `in ${unit}`} at this date, so the scale stays unchecked.${later === null ? '' : ` The ${calibrationName(later)} is later than the pull; it can be chosen for it all the same.`}`,
    },
  ]
}

function forceWarnings(
  { cell, limits }: Rig,
  calibration: RigCalibration | null,
  forceN: Float64Array,
): Warning[] {
  const { low, high } = steadyExtremes(forceN)
  const warnings: Warning[] = []
  const topN =
    calibration?.document === 'tenterhook.calibration'
      ? calibration.calibratedRange.toN
      : (calibration?.appliedN ?? null)
  const spanN = high - Math.min(low, 0)
  if (topN !== null && spanN > 1.02 * topN)
    warnings.push({
      code: 'beyond-calibration',
      text: `The force reached ${three(spanN)} N, but the calibration only ${three(topN)} N: beyond it the scale is a guess, with a doubt that grows.`,
    })
  if (cell.capacityN === undefined) return warnings
  const share = Math.max(Math.abs(high), Math.abs(low)) / cell.capacityN
  if (share >= limits.overShare)
    warnings.push({
      code: 'over-capacity',
      text: `The cell was loaded to ${Math.round(100 * share)} % of its capacity (${three(cell.capacityN)} N). It may have been harmed: check it with a known mass before going on.`,
    })
  else if (share >= limits.nearShare)
    warnings.push({
      code: 'near-capacity',
      text: `The force came to ${Math.round(100 * share)} % of the cell's capacity (${three(cell.capacityN)} N).`,
    })
  return warnings
}

/** Least and greatest force that two samples in a row reach, so that a single glitch does not count. */
function steadyExtremes(forceN: Float64Array): { low: number; high: number } {
  let low = forceN[0] ?? 0
  let high = low
  for (let i = 1; i < forceN.length; i++) {
    const lower = Math.min(forceN[i - 1]!, forceN[i]!)
    const upper = Math.max(forceN[i - 1]!, forceN[i]!)
    if (lower > high) high = lower
    if (upper < low) low = upper
  }
  return { low, high }
}

const three = (value: number): string => String(Number(value.toPrecision(3)))
