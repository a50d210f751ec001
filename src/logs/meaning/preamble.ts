/** What lines of text above the samples say of the record. */

import { secondsIn } from '../words/units.ts'

export interface StatedTimeUnit {
  readonly secondsInUnit: number
  readonly line: number
}

export interface StatedRate {
  readonly rateHz: number
  readonly line: number
  /** The line gives the number alone. */
  readonly isBare: boolean
}

const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`
const RATE = new RegExp(
  String.raw`(?:rate|frequenc\w*|freq|abtast\w*|fréquence|frecuencia|frequenza|sampl\w*|采样\S*|サンプリング\S*|частота)[^\d\n]{0,30}${NUMBER}[\s;,\t]*(k?hz|sps|samples?\s?\/\s?s|s\/s|1\/s|per second)`,
  'iu',
)
const PERIOD = new RegExp(
  String.raw`(?:interval\w*|period\w*|time\s?step|abtastzeit|intervall|periode|周期|間隔)[^\d\n]{0,30}${NUMBER}\s*(ms|msec|s|sec|us|µs)(?![\p{L}])`,
  'iu',
)
/** The unit before the number: `Sample rate [Hz]: 50`, `Interval (ms);20`. */
const UNIT_FIRST = new RegExp(
  String.raw`(rate|freq|abtast|fréquence|frecuencia|frequenza|sampl|interval|period|time\s?step)[^\d\n]{0,30}[[(]\s*(k?hz|sps|s\/s|1\/s|ms|msec|s|sec|us|µs)\s*[\])]\s*[:=;,|\t]*\s*"?${NUMBER}(?![\d.,:/-]*\d)`,
  'iu',
)
/** `fs = 10`, `dt: 0.02 s`, as scripts name them. */
const SYMBOL = new RegExp(
  String.raw`(?:^|[\s;,#%"({])(f_?s|d_?t)"?\s*[:=]\s*${NUMBER}\s*(k?hz|ms|msec|s|sec|us|µs)?(?=\s*(?:$|[;,)}"]))`,
  'iu',
)
/** A number alone can be meant in one way only: so many samples a second. */
const BARE = new RegExp(
  String.raw`(?:sampl\w*|abtast|scan|log\w*|data|daq|acquisition)[ _-]?(?:rate|freq\w*)"?\s*[:=;,\t]\s*"?${NUMBER}"?\s*$`,
  'iu',
)
const SECONDS: Readonly<Record<string, number>> = { ms: 1e-3, msec: 1e-3, s: 1, sec: 1, us: 1e-6, µs: 1e-6 }

const TIME_UNIT =
  /(?:(?:^|[^\p{L}])(?:time|zeit|temps|tiempo|tempo)(?:[\s_.-]*(?:stamps?|units?|in|is|are))*|units?[._](?:t|ts)|zeiteinheit|时间单位|時間単位)[\s_.]*[:=]?\s*["'([]?(ms|msec|milliseconds?|s|sec|seconds?|us|µs|μs|microseconds?|ns)(?![\p{L}\p{N}_])/iu

/**
 * The unit in which the log says that its times are: `time_unit: us`, `# time is in ms`; `null` where it says
 * none, or two.
 */
export function statedTimeUnit(texts: readonly { line: number; text: string }[]): StatedTimeUnit | null {
  const found = texts.flatMap(({ line, text }) => {
    const word = TIME_UNIT.exec(text)?.[1]
    const seconds = word === undefined ? null : word.toLowerCase() === 'ns' ? 1e-9 : secondsIn(word)
    return seconds === null ? [] : [{ secondsInUnit: seconds, line }]
  })
  const [first] = found
  return first && found.every(other => other.secondsInUnit === first.secondsInUnit) ? first : null
}

/** A sampling rate that the log states: `Sample rate: 80 Hz`, `interval = 12.5 ms`. */
export function statedRate(texts: readonly { line: number; text: string }[]): StatedRate | null {
  for (const { line, text } of texts) {
    const first = UNIT_FIRST.exec(text)
    const before = first ? unitFirst(first[2] ?? '', first[3] ?? '') : 0
    if (before > 0) return { rateHz: before, line, isBare: false }
    const rate = RATE.exec(text)
    if (rate) {
      const scale = /^k/i.test(rate[2] ?? '') ? 1000 : 1
      const rateHz = Number((rate[1] ?? '').replace(',', '.')) * scale
      if (rateHz > 0) return { rateHz, line, isBare: false }
    }
    const period = PERIOD.exec(text)
    const seconds = period
      ? Number((period[1] ?? '').replace(',', '.')) * (SECONDS[(period[2] ?? '').toLowerCase()] ?? 1)
      : 0
    if (seconds > 0) return { rateHz: 1 / seconds, line, isBare: false }
    const symbol = SYMBOL.exec(text)
    const named = symbol ? bySymbol(symbol[1] ?? '', symbol[2] ?? '', symbol[3] ?? '') : 0
    if (named > 0) return { rateHz: named, line, isBare: !symbol?.[3] }
    const bare = Number((BARE.exec(text)?.[1] ?? '0').replace(',', '.'))
    if (bare > 0) return { rateHz: bare, line, isBare: true }
  }
  return null
}

/** Readings a second by a number and the unit of a rate or of an interval. */
function unitFirst(word: string, number: string): number {
  const value = Number(number.replace(',', '.'))
  const seconds = SECONDS[word.toLowerCase()]
  if (seconds !== undefined) return value > 0 ? 1 / (value * seconds) : 0
  return value * (/^k/i.test(word) ? 1000 : 1)
}

/**
 * Readings a second by `fs` in Hz or `dt` in s, where no unit says otherwise; 0 where the unit is of another
 * kind.
 */
function bySymbol(symbol: string, number: string, unit: string): number {
  const isRate = /^f/i.test(symbol)
  const word = unit === '' ? (isRate ? 'hz' : 's') : unit
  return isRate === /hz$/i.test(word) ? unitFirst(word, number) : 0
}
