import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Reading } from '../../../../src/core/reading/document.ts'
import type { Recording } from '../../../../src/core/recording.ts'
import { N_PER, parseForceUnit } from '../../../../src/core/units/force.ts'
import { type LogOptions, readLog } from '../../../../src/logs/index.ts'

/**
 * Records of real rigs with what a careful eye sees in them, from a folder that somebody has: `labels.json`, a list of
 * labels, and the logs beside it. None comes with the project.
 */
export interface Label {
  readonly file: string
  /** Where it comes from: what is held out together in a cross-validation. */
  readonly repo: string
  /** Words of the command line that the log needs: `--rate 10`, `--force 2`, `--unit N`. */
  readonly options?: readonly string[]
  /** Newton in one of the file's own unit, where that is known. */
  readonly toN?: number
  /** In the file's own unit; `null`: there is no pull. */
  readonly peak?: number | null
  readonly peakTol?: number
  readonly zeroShown?: boolean
  readonly broke?: 'yes' | 'no' | 'unknown'
  readonly partialBreaks?: readonly [number, number]
  readonly pulls?: readonly [number, number]
}

export interface Labelled {
  readonly label: Label
  readonly recording: Recording
}

/** The records of a folder that can be opened; the others are named. */
export function labelledRecords(folder: string): { records: Labelled[]; unopened: string[] } {
  const labels = JSON.parse(readFileSync(join(folder, 'labels.json'), 'utf8')) as Label[]
  const records: Labelled[] = []
  const unopened: string[] = []
  for (const label of labels) {
    const path = join(folder, label.file)
    const read = existsSync(path)
      ? readLog(new Uint8Array(readFileSync(path)), label.file, optionsOf(label.options ?? []))
      : null
    if (read?.ok) records.push({ label, recording: read.value })
    else unopened.push(label.file)
  }
  return { records, unopened }
}

function optionsOf(words: readonly string[]): LogOptions {
  const after = (name: string): string | undefined => {
    const at = words.indexOf(name)
    return at < 0 ? undefined : words[at + 1]
  }
  const [time, force, unit, rate] = ['--time', '--force', '--unit', '--rate'].map(after)
  const parsed = unit === undefined ? null : parseForceUnit(unit)
  return {
    ...(time === undefined ? {} : { time }),
    ...(force === undefined ? {} : { force }),
    ...(parsed === null ? {} : { unit: parsed }),
    ...(rate === undefined ? {} : { rateHz: Number(rate) }),
  }
}

/** What is looked at in a reading of a labelled record, with what a mistake in it costs in the measure of `lossOf`. */
const CHECKS = {
  peak: 1,
  notFarOff: 2,
  interval: 0.5,
  zeroRight: 1,
  noPeakClaimed: 2,
  partialBreaks: 0.5,
  pulls: 1,
  broke: 0.5,
} as const
type Check = keyof typeof CHECKS
export const realChecks = Object.keys(CHECKS) as readonly Check[]

/** Which checks a reading passes; those that its label does not tell are left out. */
export function checked(reading: Reading, { label, recording }: Labelled): Partial<Record<Check, boolean>> {
  const { peakForce, partialBreaks } = reading.results
  const unit = recording.forceUnit
  const toN = label.toN ?? (unit === null || unit === 'counts' ? 1 : N_PER[unit])
  const inUnit = (forceN: number | null): number | null => (forceN === null ? null : forceN / toN)
  const within = (n: number, range: readonly [number, number]): boolean => n >= range[0] && n <= range[1]
  const broke = reading.pulls.some(p => p.ends === 'break') || reading.events.some(e => e.kind === 'break')
  return {
    ...(typeof label.peak === 'number' ? peakChecks(label.peak) : {}),
    ...(label.peak === null
      ? { noPeakClaimed: peakForce.status === 'no-pull' || peakForce.valueN === null }
      : {}),
    ...(label.partialBreaks ? { partialBreaks: within(partialBreaks, label.partialBreaks) } : {}),
    ...(label.pulls ? { pulls: within(reading.pulls.length, label.pulls) } : {}),
    ...(label.broke === 'yes' || label.broke === 'no' ? { broke: broke === (label.broke === 'yes') } : {}),
  }

  function peakChecks(peak: number): Partial<Record<Check, boolean>> {
    const tol = label.peakTol ?? 0.01
    const value = inUnit(peakForce.valueN)
    const off = value === null ? Number.POSITIVE_INFINITY : Math.abs(value / peak - 1)
    const low = inUnit(peakForce.lowN) ?? Number.NEGATIVE_INFINITY
    const high = inUnit(peakForce.highN) ?? Number.POSITIVE_INFINITY
    const seen = peakForce.zero !== 'as-indicated'
    return {
      peak: off <= tol,
      notFarOff: off <= Math.max(seen ? 0.05 : 0.1, 2 * tol),
      interval: low <= peak * (1 + tol) && high >= peak * (1 - tol),
      ...(label.zeroShown === undefined ? {} : { zeroRight: label.zeroShown === seen }),
    }
  }
}

/** What is wrong with a reading of a labelled record, in one number. */
export const realLoss = (reading: Reading, one: Labelled): number =>
  Object.entries(checked(reading, one)).reduce(
    (sum, [check, right]) => sum + (right ? 0 : CHECKS[check as Check]),
    0,
  )
