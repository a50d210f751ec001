import { STANDARD_GRAVITY_MS2 } from './gravity.ts'

/** Avoirdupois pound in kg. Exact by definition (international yard and pound agreement, 1959; NIST SP 811, B.8). */
const KG_PER_LB = 0.453_592_37

/**
 * Newton in one of each unit that a log may use.
 * The gravitational units stand on standard gravity, whatever the local one (NIST SP 811, appendix B.8): all are exact.
 */
export const N_PER = {
  N: 1,
  kN: 1_000,
  mN: 0.001,
  kgf: STANDARD_GRAVITY_MS2,
  gf: STANDARD_GRAVITY_MS2 / 1_000,
  tf: STANDARD_GRAVITY_MS2 * 1_000,
  lbf: KG_PER_LB * STANDARD_GRAVITY_MS2,
  ozf: (KG_PER_LB / 16) * STANDARD_GRAVITY_MS2,
  kip: KG_PER_LB * 1_000 * STANDARD_GRAVITY_MS2,
} as const

/** A unit of force. */
export type ForceUnit = keyof typeof N_PER

/** What a log's numbers may be in: a force, or a converter's raw counts, which only a calibration turns into one. */
export type LogForceUnit = ForceUnit | 'counts'

/** The log's own scale, where its numbers are no force yet: a converter's counts, or a unit that was not told. */
export type OwnScale = 'counts' | 'log units'

/** What figures of a recording are shown in. */
export type ShownUnit = ForceUnit | OwnScale

export const FORCE_UNITS = Object.keys(N_PER) as readonly ForceUnit[]

/** Spellings of each unit, in lower case, without dots, spaces and brackets. */
const SPELLINGS: Readonly<Record<LogForceUnit, string>> = {
  N: 'n newton newtons',
  kN: 'kn kilonewton kilonewtons',
  mN: 'mn millinewton millinewtons',
  kgf: 'kgf kg kgs kp kilo kilos kilogram kilograms kilogramforce kilopond kiloponds',
  gf: 'gf g gr gram grams gramforce pond ponds',
  tf: 'tf t ton tonne tonnes tonneforce',
  lbf: 'lbf lb lbs pound pounds poundforce',
  ozf: 'ozf oz ounce ounces ounceforce',
  kip: 'kip kips klbf',
  counts: 'counts count cnt raw adc lsb',
}

const UNIT_OF = new Map(
  Object.entries(SPELLINGS).flatMap(([unit, words]) =>
    words.split(' ').map(word => [word, unit as LogForceUnit] as const),
  ),
)

/**
 * The unit that a word names, or `null`.
 * Case counts only where it tells two units apart: `mN` is millinewton and `MN` is nothing we know (a rig that
 * reaches meganewtons is not on a bench).
 */
export function parseForceUnit(word: string): LogForceUnit | null {
  const bare = word
    .trim()
    .replace(/^[[({<]+|[\])}>.:]+$/g, '')
    .replace(/[\s·*_-]+/g, '')
  if (bare === 'MN') return null
  return UNIT_OF.get(bare.toLowerCase()) ?? null
}

export const toNewton = (value: number, unit: ForceUnit): number => value * N_PER[unit]

/** A force in a unit; a number on a log's own scale stands as it is. */
export const fromNewton = (forceN: number, unit: ShownUnit): number =>
  isOwnScale(unit) ? forceN : forceN / N_PER[unit]

export const isOwnScale = (unit: ShownUnit): unit is OwnScale => unit === 'counts' || unit === 'log units'

/** The own scale of a log whose numbers are no force; `null` where they are one. `null` as a unit: it was not told. */
export const ownScaleOf = (logUnit: string | null): OwnScale | null =>
  logUnit === 'counts' ? 'counts' : logUnit === null ? 'log units' : null

/** The unit that a log's own numbers are in, to show its figures in. */
export const unitOfLog = (logUnit: string | null): ShownUnit =>
  ownScaleOf(logUnit) ?? FORCE_UNITS.find(unit => unit === logUnit) ?? 'N'

/** What the numbers of a recording are in, in tables: newton, `counts`, or `''` where the unit is not told. */
export const writtenUnitOf = (logUnit: string | null): 'N' | 'counts' | '' =>
  logUnit === null ? '' : logUnit === 'counts' ? 'counts' : 'N'

/** The unit to show a log's figures in: that asked for, but never a unit of force for numbers that are no force. */
export const shownUnitOf = (logUnit: string | null, asked: ForceUnit): ShownUnit =>
  ownScaleOf(logUnit) ?? asked
