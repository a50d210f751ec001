import { type LogForceUnit, parseForceUnit } from '../../core/units/force.ts'

/** Seconds in one of each unit of time; matched after case is folded. */
const SECONDS_IN: Readonly<Record<string, number>> = {
  s: 1,
  sec: 1,
  secs: 1,
  second: 1,
  seconds: 1,
  sek: 1,
  sekunden: 1,
  sekunde: 1,
  seg: 1,
  segundos: 1,
  secondes: 1,
  seconde: 1,
  secondi: 1,
  秒: 1,
  초: 1,
  с: 1,
  сек: 1,
  ms: 1e-3,
  msec: 1e-3,
  msecs: 1e-3,
  millis: 1e-3,
  milli: 1e-3,
  millisec: 1e-3,
  millisecond: 1e-3,
  milliseconds: 1e-3,
  millisekunden: 1e-3,
  毫秒: 1e-3,
  ミリ秒: 1e-3,
  мс: 1e-3,
  us: 1e-6,
  µs: 1e-6,
  μs: 1e-6,
  usec: 1e-6,
  micros: 1e-6,
  microsec: 1e-6,
  microsecond: 1e-6,
  microseconds: 1e-6,
  微秒: 1e-6,
  мкс: 1e-6,
  ns: 1e-9,
  min: 60,
  mins: 60,
  minutes: 60,
  minute: 60,
  h: 3600,
  hours: 3600,
}

/** Millimetres in one of each unit of length. The inch is exact (1959 agreement). */
const MM_IN: Readonly<Record<string, number>> = {
  mm: 1,
  millimeter: 1,
  millimetre: 1,
  millimeters: 1,
  millimetres: 1,
  cm: 10,
  m: 1000,
  um: 1e-3,
  µm: 1e-3,
  μm: 1e-3,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
  mil: 0.0254,
  mils: 0.0254,
  мм: 1,
  см: 10,
  毫米: 1,
}

/** Units that are none of force, time or length: a column in one of them is not the force. */
const OTHER_UNITS = new Set(
  'v volt volts mv millivolt millivolts mv/v uv µv a ma amp amps hz khz pa kpa mpa bar mbar psi % °c °f c degc degf k °k deg ° rad rpm n/s n/mm mm/s mm/min in/min nm n·m j w db'.split(
    ' ',
  ),
)

/** Force units in other scripts, which the core's symbols do not cover. */
const FORCE_IN_OTHER_SCRIPTS: Readonly<Record<string, LogForceUnit>> = {
  н: 'N',
  кн: 'kN',
  мн: 'mN',
  кгс: 'kgf',
  кг: 'kgf',
  гс: 'gf',
  г: 'gf',
  牛: 'N',
  牛顿: 'N',
  千牛: 'kN',
  公斤: 'kgf',
  千克: 'kgf',
  克: 'gf',
  ニュートン: 'N',
  뉴턴: 'N',
}

/** Units of force that exist but are not taken: a column that ends in one must not pass for newton. Case counts. */
const FOREIGN_FORCE = new Set('MN GN cN daN uN µN μN dyn dyne dynes stone stones pdl cwt'.split(' '))

export const isForeignForce = (word: string): boolean => FOREIGN_FORCE.has(word)

export type UnitMeaning =
  | { readonly of: 'force'; readonly unit: LogForceUnit }
  | { readonly of: 'time'; readonly secondsIn: number }
  | { readonly of: 'length'; readonly mmIn: number }
  | { readonly of: 'other' }

const inBrackets = (word: string): string => word.trim().replace(/^[[({<]+|[\])}>.:;,]+$/g, '')

export function forceUnitOf(word: string): LogForceUnit | null {
  const bare = inBrackets(word)
  if (!/^[\p{L}·*_\s-]{1,24}$/u.test(bare)) return null
  return parseForceUnit(bare) ?? FORCE_IN_OTHER_SCRIPTS[bare.toLowerCase()] ?? null
}

export const secondsIn = (word: string): number | null => SECONDS_IN[inBrackets(word).toLowerCase()] ?? null

export const mmIn = (word: string): number | null => MM_IN[inBrackets(word).toLowerCase()] ?? null

/** What a unit word means, or `null` for a word that is no unit we know. Case parts `mN` from `MN`, `s` from nothing. */
export function unitMeaning(word: string): UnitMeaning | null {
  const bare = inBrackets(word)
  const force = forceUnitOf(bare)
  if (force !== null) return { of: 'force', unit: force }
  const s = secondsIn(bare)
  if (s !== null) return { of: 'time', secondsIn: s }
  const mm = mmIn(bare)
  if (mm !== null) return { of: 'length', mmIn: mm }
  return OTHER_UNITS.has(bare.toLowerCase()) ? { of: 'other' } : null
}
