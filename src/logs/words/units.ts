import { type ForceUnit, type LogForceUnit, parseForceUnit } from '../../core/units/force.ts'

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
  seconden: 1,
  segundo: 1,
  sekund: 1,
  sekunder: 1,
  sekundy: 1,
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
  milisegundos: 1e-3,
  millisecondes: 1e-3,
  millisecondi: 1e-3,
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
  microsegundos: 1e-6,
  mikrosekunden: 1e-6,
  微秒: 1e-6,
  мкс: 1e-6,
  ns: 1e-9,
  min: 60,
  mins: 60,
  minutes: 60,
  minute: 60,
  minuten: 60,
  minutos: 60,
  minuti: 60,
  мин: 60,
  分: 60,
  分钟: 60,
  h: 3600,
  hr: 3600,
  hrs: 3600,
  hour: 3600,
  hours: 3600,
  std: 3600,
  stunden: 3600,
  heures: 3600,
  horas: 3600,
  ore: 3600,
  小时: 3600,
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
  'v volt volts voltage mv millivolt millivolts mv/v uv µv a ma amp amps hz khz pa kpa mpa gpa ksi bar mbar psi n/mm2 n/mm² n/m2 kgf/cm2 kg/cm2 % mm/mm m/m in/in strain ustrain µε με °c °f c degc degf k °k deg ° rad rpm n/s n/mm mm/s mm/min in/min nm n·m j w db'.split(
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

/**
 * Multiples of a known unit that logs are written in, with how many of it one is. Case counts: `MN` is no
 * `mN`.
 */
const MULTIPLES: Readonly<Record<string, readonly [times: number, unit: ForceUnit]>> = {
  daN: [10, 'N'],
  dan: [10, 'N'],
  decanewton: [10, 'N'],
  decanewtons: [10, 'N'],
  cN: [0.01, 'N'],
  centinewton: [0.01, 'N'],
  hN: [100, 'N'],
  MN: [1000, 'kN'],
  meganewton: [1000, 'kN'],
  uN: [1e-3, 'mN'],
  µN: [1e-3, 'mN'],
  μN: [1e-3, 'mN'],
  micronewton: [1e-3, 'mN'],
  nN: [1e-6, 'mN'],
  dyn: [0.01, 'mN'],
  dyne: [0.01, 'mN'],
  dynes: [0.01, 'mN'],
  mgf: [1e-3, 'gf'],
  mg: [1e-3, 'gf'],
}

/** Units of force that are not taken: a column that ends in one must not pass for newton. Case counts. */
const FOREIGN_FORCE = new Set('GN stone stones pdl cwt'.split(' '))

export const isForeignForce = (word: string): boolean => FOREIGN_FORCE.has(word)

/** A unit of force, and how many of it one of the log's is: 10 for numbers in tens of newton. */
export interface ScaledUnit {
  readonly unit: LogForceUnit
  readonly times: number
}

/** The unit of force that a word names, multiples such as `daN` included. */
export function multipleForceUnitOf(word: string): ScaledUnit | null {
  const bare = inBrackets(word)
  const plain = forceUnitOf(bare)
  if (plain !== null) return { unit: plain, times: 1 }
  const multiple = MULTIPLES[bare]
  return multiple ? { unit: multiple[1], times: multiple[0] } : null
}

/** `x10N`, `10 x N`, `N*10`: a factor that is said to be one. */
const FACTOR_FIRST = /^(?:[x×*]\s?(\d+(?:[.,]\d+)?)\s?[x×*·]?|(\d+(?:[.,]\d+)?)\s?[x×*·])\s?(\p{L}{1,12})$/u
const FACTOR_LAST = /^(\p{L}{1,12})\s?[x×*·]\s?(\d+(?:[.,]\d+)?)$/u

/** A unit of force with a factor, `null` for any other: `100 kg` may as well be what a cell can bear. */
export function factoredForceUnitOf(text: string): ScaledUnit | null {
  const bare = inBrackets(text)
  const first = FACTOR_FIRST.exec(bare)
  const last = first ? null : FACTOR_LAST.exec(bare)
  const word = first ? first[3] : last?.[1]
  const factor = first ? (first[1] ?? first[2]) : last?.[2]
  if (word === undefined || factor === undefined) return null
  const times = Number(factor.replace(',', '.'))
  const unit = multipleForceUnitOf(word)
  return unit === null || unit.unit === 'counts' || !(times > 0)
    ? null
    : { unit: unit.unit, times: times * unit.times }
}

export type UnitMeaning =
  | { readonly of: 'force'; readonly unit: LogForceUnit; readonly times: number }
  | { readonly of: 'time'; readonly secondsIn: number }
  | { readonly of: 'length'; readonly mmIn: number }
  | { readonly of: 'other' }

const inBrackets = (word: string): string => word.trim().replace(/^[[({<]+|[\])}>.:;,]+$/g, '')

export function forceUnitOf(word: string): LogForceUnit | null {
  const bare = inBrackets(word)
  if (!/^[\p{L}·*_\s-]{1,24}$/u.test(bare)) return null
  // `kilograms-force`, `pounds force`.
  const singular = bare.length > 6 ? bare.replace(/s(?=[\s·*_-]*force$)/i, '') : bare
  return parseForceUnit(singular) ?? FORCE_IN_OTHER_SCRIPTS[bare.toLowerCase()] ?? null
}

export const secondsIn = (word: string): number | null => SECONDS_IN[inBrackets(word).toLowerCase()] ?? null

export const mmIn = (word: string): number | null => MM_IN[inBrackets(word).toLowerCase()] ?? null

/**
 * What a unit word means, or `null` for a word that is no unit we know. Case parts `mN` from `MN`, `s` from
 * nothing.
 */
export function unitMeaning(word: string): UnitMeaning | null {
  const bare = inBrackets(word)
  const force = multipleForceUnitOf(bare)
  if (force !== null) return { of: 'force', ...force }
  const s = secondsIn(bare)
  if (s !== null) return { of: 'time', secondsIn: s }
  const mm = mmIn(bare)
  if (mm !== null) return { of: 'length', mmIn: mm }
  return OTHER_UNITS.has(bare.toLowerCase()) ? { of: 'other' } : null
}
