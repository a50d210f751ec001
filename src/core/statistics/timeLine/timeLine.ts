import type { Check } from '../../calibration/checkDocument.ts'
import { errorPctOf } from '../../calibration/judgeCheck.ts'
import { ENGINE_VERSION } from '../../version.ts'
import { mean } from '../group/moments.ts'
import { changesIn, LEAST_VALUES } from './changePoint.ts'
import type { TimeLine } from './document.ts'
import { findingsOf } from './findings.ts'
import { type DayValue, levelShift } from './levelShift.ts'
import { engineSteps, type ReadTwice } from './readAgain.ts'
import { verdictOfLine } from './words.ts'

/** A specimen of the control variant. */
export interface ControlPull {
  readonly name: string
  /** Day that it was pulled on, ISO 8601; `null` where that is not known. */
  readonly day: string | null
  readonly value: number
  /** Version of the engine that its figure is from; `null` where it was no reading. */
  readonly engine: string | null
}

export interface TimeLineGiven {
  /** Name of the control variant. */
  readonly control: string
  readonly unit: string
  readonly pulls: readonly ControlPull[]
  /** Of the rig that they were pulled on. */
  readonly checks: readonly Check[]
  readonly readTwice: readonly ReadTwice[]
  /** What is known already and to be said. */
  readonly warnings?: TimeLine['warnings']
}

/** Loads closer than this are one mass, whose own error is the same each time. */
const SAME_MASS = 0.005

/**
 * Control variant, daily checks and re-readings on one line: where each changed its level, and what that says. The checks tell whether the rig
 * moved, the re-readings whether the engine did; what the control moved beyond both, the specimens did.
 */
export function timeLine({
  control,
  unit,
  pulls,
  checks,
  readTwice,
  warnings = [],
}: TimeLineGiven): TimeLine {
  const days = controlDays(pulls)
  const first = changesIn(days.map(d => d.mean))[0]?.at ?? days.length
  const base = days.length === 0 ? null : mean(days.slice(0, first).map(d => d.mean))
  const inPct = days.map(d => ({ ...d, pct: base === null || base === 0 ? 0 : 100 * (d.mean / base - 1) }))
  const { appliedN, used, leftOut } = mostUsedMass(checks)
  const checkDays = perDay(used.map(c => ({ day: c.at.slice(0, 10), value: errorPctOf(c) })))
  const floor = used.length === 0 ? 0 : mean(used.map(c => (100 * c.indicatedStandardN) / c.appliedN))
  const ofChecks = checkDays.map(d => ({ day: d.day, pct: d.mean }))
  const readAgain = engineSteps(readTwice)
  const found = findingsOf({
    control: inPct,
    checks: ofChecks,
    checkFloor: floor,
    readAgain,
    readTwice,
    name: control,
  })
  const undated = pulls.filter(p => p.day === null).length
  const line: Omit<TimeLine, 'verdict'> = {
    document: 'tenterhook.time-line',
    version: 1,
    engine: ENGINE_VERSION,
    control: { name: control, unit, mean: base, days: inPct, changes: changesOf(inPct, 0) },
    checks: {
      appliedN,
      days: checkDays.map(({ day, n, mean: errorPct }) => ({ day, n, errorPct })),
      leftOut,
      changes: changesOf(ofChecks, floor),
    },
    readAgain,
    findings: found,
    warnings: [
      ...warnings,
      ...(undated > 0
        ? [
            {
              code: 'no-day',
              text: `Of ${undated} of ${control} the day is not known: they are not on the line.`,
            },
          ]
        : []),
      ...(leftOut > 0
        ? [
            {
              code: 'other-mass',
              text: `${leftOut} of the checks were made with another mass, whose own error differs: they are not on the line.`,
            },
          ]
        : []),
    ],
  }
  return { ...line, verdict: verdictOfLine(line, LEAST_VALUES) }
}

function controlDays(pulls: readonly ControlPull[]) {
  const dated = pulls.flatMap(p => (p.day === null ? [] : [{ ...p, day: p.day }]))
  return perDay(dated.map(({ day, value }) => ({ day, value }))).map(d => ({
    ...d,
    engines: [...new Set(dated.flatMap(p => (p.day === d.day && p.engine !== null ? [p.engine] : [])))],
  }))
}

function perDay(values: readonly { readonly day: string; readonly value: number }[]) {
  const days = [...new Set(values.map(v => v.day))].sort()
  return days.map(day => {
    const own = values.filter(v => v.day === day).map(v => v.value)
    return { day, n: own.length, mean: mean(own) }
  })
}

/** The checks with the mass that was hung most often: another mass has another error of its own. */
function mostUsedMass(checks: readonly Check[]) {
  const alike = checks.map(c => checks.filter(d => Math.abs(d.appliedN / c.appliedN - 1) < SAME_MASS))
  const used = alike.reduce<readonly Check[]>((most, own) => (own.length > most.length ? own : most), [])
  return { appliedN: used[0]?.appliedN ?? null, used, leftOut: checks.length - used.length }
}

function changesOf(days: readonly DayValue[], floor: number): TimeLine['control']['changes'] {
  const values = days.map(d => d.pct)
  const changes = changesIn(values, floor)
  return changes.flatMap(({ at, toldAt }, i) => {
    const shift = levelShift(
      values.slice(changes[i - 1]?.at ?? 0, at),
      values.slice(at, changes[i + 1]?.at ?? values.length),
      floor,
    )
    return shift === null
      ? []
      : [{ from: days[at]!.day, told: days[toldAt]!.day, byPct: shift.by, ci95Pct: shift.ci95 }]
  })
}
