import { InvalidArgumentError } from 'commander'
import type { Rig } from '../../core/calibration/rig.ts'
import type { RigExpectation } from '../../core/statistics/plan/rigChecks.ts'
import { rigExpectation } from '../../core/statistics/plan/rigExpectation.ts'
import { FORCE_UNITS, toNewton } from '../../core/units/force.ts'

/** `5` or `10%`. */
export interface Amount {
  readonly value: number
  readonly percent: boolean
}

export function amountOf(text: string): Amount {
  const percent = /%$/.test(text.trim())
  const value = Number(text.trim().replace(/\s*%$/, ''))
  if (!Number.isFinite(value) || value <= 0)
    throw new InvalidArgumentError('It must be an amount above 0, or a percentage as in 10%.')
  return { value, percent }
}

export interface RigFlags {
  readonly capacity?: number
  readonly rate?: number
  readonly averaged?: number
  readonly speed?: number
  readonly stroke?: number
  readonly extension?: number
  readonly timeToBreak?: number
  readonly accuracy: number
}

/** The rig as told, what was not told from its description; `null` where nothing of it is known. Forces in newton. */
export function rigOf(
  flags: RigFlags,
  rig: Rig | null,
  mean: number | null,
  unit: string,
): RigExpectation | null {
  const { capacity, rate, speed, stroke, extension, timeToBreak } = flags
  const told = [capacity, rate, speed, stroke, extension, timeToBreak].some(v => v !== undefined)
  if (!told && rig === null) return null
  const force = FORCE_UNITS.find(known => known === unit)
  const inNewton = (value: number | null | undefined): number | null =>
    value === undefined || value === null || force === undefined ? null : toNewton(value, force)
  return rigExpectation(
    {
      capacityN: inNewton(capacity),
      expectedPeakN: inNewton(mean),
      rateHz: rate,
      averaged: flags.averaged,
      speedMmS: speed,
      strokeMm: stroke,
      extensionMm: extension,
      timeToBreakS: timeToBreak,
      accuracyPct: flags.accuracy,
    },
    rig,
  )
}
