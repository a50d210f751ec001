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

export const FORCE_UNITS = Object.keys(N_PER) as readonly ForceUnit[]

/** Spellings beyond the symbol itself; matched without case after dots, spaces and brackets are taken off. */
// biome-ignore format: a table reads better in rows
const SPELLINGS: Readonly<Record<string, LogForceUnit>> = {
  n: 'N', newton: 'N', newtons: 'N',
  kn: 'kN', kilonewton: 'kN', kilonewtons: 'kN',
  mn: 'mN', millinewton: 'mN', millinewtons: 'mN',
  kgf: 'kgf', kg: 'kgf', kgs: 'kgf', kp: 'kgf', kilo: 'kgf', kilos: 'kgf', kilogram: 'kgf', kilograms: 'kgf', kilogramforce: 'kgf', kilopond: 'kgf',
  gf: 'gf', g: 'gf', gr: 'gf', gram: 'gf', grams: 'gf', gramforce: 'gf', pond: 'gf',
  tf: 'tf', t: 'tf', ton: 'tf', tonne: 'tf', tonnes: 'tf', tonneforce: 'tf',
  lbf: 'lbf', lb: 'lbf', lbs: 'lbf', pound: 'lbf', pounds: 'lbf', poundforce: 'lbf',
  ozf: 'ozf', oz: 'ozf', ounce: 'ozf', ounces: 'ozf', ounceforce: 'ozf',
  kip: 'kip', kips: 'kip', klbf: 'kip',
  counts: 'counts', count: 'counts', cnt: 'counts', raw: 'counts', adc: 'counts', lsb: 'counts',
}

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
  return SPELLINGS[bare.toLowerCase()] ?? null
}

export const toNewton = (value: number, unit: ForceUnit): number => value * N_PER[unit]

export const fromNewton = (forceN: number, unit: ForceUnit): number => forceN / N_PER[unit]
