import { fine, type Outcome, wrong } from '../problem.ts'
import type { LogForceUnit } from '../units/force.ts'
import { toNewton } from '../units/force.ts'
import type { QuickScale } from './rig.ts'

/** What one mass cannot tell: bend, repeats, hysteresis. Limits as a share of the force; common practice, no source. */
const ONE_MASS_UNKNOWN_PCT = 1

export interface OneMass {
  readonly appliedN: number
  /** Standard uncertainty of it: tolerance, gravity and buoyancy together. */
  readonly appliedStandardN: number
  readonly reading: number
  readonly zeroReading: number
  /** Standard uncertainty of reading − zero, in readings. */
  readonly readingStandard: number
  readonly readingUnit: LogForceUnit
  readonly date: string
  /** Limits ± in per cent for what one mass cannot tell. */
  readonly unknownPct?: number
}

/** The scale from one known mass: newton a reading = force/(reading − zero), with all that is not known in its doubt. */
export function scaleByOneMass(given: OneMass): Outcome<QuickScale> {
  const { appliedN, reading, zeroReading, readingStandard, unknownPct = ONE_MASS_UNKNOWN_PCT } = given
  const span = reading - zeroReading
  if (!(appliedN > 0))
    return wrong({
      where: 'the mass',
      what: `a force of ${appliedN} N tells nothing.`,
      cure: 'Hang a known mass.',
    })
  if (!(Math.abs(span) > 4 * readingStandard) || span === 0)
    return wrong({
      where: 'the readings',
      what: `${reading} with the mass and ${zeroReading} without it do not differ beyond their scatter.`,
      cure: 'Check the wiring, or hang a greater mass.',
    })
  const share = Math.hypot(
    given.appliedStandardN / appliedN,
    readingStandard / span,
    unknownPct / 100 / Math.sqrt(3),
  )
  return fine({
    document: 'tenterhook.quick-scale',
    version: 1,
    date: given.date,
    basis: 'one-mass',
    readingUnit: given.readingUnit,
    newtonPerReading: appliedN / span,
    zeroReading,
    appliedN,
    doubtPct: 100 * 1.959_963_984_540_054 * share,
  })
}

/** The scale as the indicator shows it, with a doubt that the user states (95 %, per cent of the force). */
export function scaleByTypedDoubt(
  readingUnit: LogForceUnit,
  doubtPct: number,
  date: string,
): Outcome<QuickScale> {
  if (readingUnit === 'counts')
    return wrong({
      where: 'the unit',
      what: 'counts have no scale of their own to doubt.',
      cure: 'Hang one known mass, and take the scale from it.',
      code: 'counts-without-scale',
    })
  return fine({
    document: 'tenterhook.quick-scale',
    version: 1,
    date,
    basis: 'typed',
    readingUnit,
    newtonPerReading: toNewton(1, readingUnit),
    zeroReading: 0,
    appliedN: null,
    doubtPct,
  })
}
