import { type Command, InvalidArgumentError, Option } from 'commander'
import { FORCE_UNITS, type ForceUnit, type LogForceUnit, parseForceUnit } from '../core/units/force.ts'
import { type LogOptions, TIME_UNITS, type TimeUnitWord } from '../logs/index.ts'

/** The options that say how a log is to be understood; every command that opens logs has them. */
export interface LogFlags {
  readonly time?: string
  readonly timeUnit?: TimeUnitWord
  readonly force?: string
  readonly unit?: LogForceUnit
  readonly rate?: number
  readonly tension?: 'positive' | 'negative'
  readonly decimal?: 'comma' | 'point'
  readonly encoding?: string
}

export const addLogOptions = (command: Command): Command =>
  command
    .optionsGroup('How the log is to be understood (found out where not given):')
    .option('--time <column>', 'column of time, by name or by number from 1')
    .addOption(
      new Option('--time-unit <unit>', 'unit of the times in the log').choices(Object.keys(TIME_UNITS)),
    )
    .option('--force <column>', 'column of force, by name or by number from 1')
    .option('--unit <unit>', 'unit of force in the log', logUnit)
    .option('--rate <hz>', 'readings a second, for a log without times of its own', positive)
    .addOption(new Option('--tension <sign>', 'sign of tension in the log').choices(['positive', 'negative']))
    .addOption(new Option('--decimal <mark>', 'decimal mark').choices(['comma', 'point']))
    .option('--encoding <name>', 'text encoding, as in utf-16le, windows-1252 or shift_jis')

/** Their names, for commands that take logs or what was kept of them. */
export const LOG_OPTIONS: readonly string[] = [
  'time',
  'timeUnit',
  'force',
  'unit',
  'rate',
  'tension',
  'decimal',
  'encoding',
]

/** The same as the reader of logs wants them. */
export function logOptionsOf({
  time,
  timeUnit,
  force,
  unit,
  rate,
  tension,
  decimal,
  encoding,
}: LogFlags): LogOptions {
  return {
    ...(time === undefined ? {} : { time }),
    ...(timeUnit === undefined ? {} : { timeUnit }),
    ...(force === undefined ? {} : { force }),
    ...(unit === undefined ? {} : { unit }),
    ...(rate === undefined ? {} : { rateHz: rate }),
    ...(tension === undefined ? {} : { tension }),
    ...(decimal === undefined ? {} : { decimal }),
    ...(encoding === undefined ? {} : { encoding }),
  }
}

function logUnit(word: string) {
  const unit = parseForceUnit(word)
  if (unit === null) throw new InvalidArgumentError(`It must be one of ${FORCE_UNITS.join(', ')} or counts.`)
  return unit
}

/** A unit in which forces are shown. */
export function shownUnit(word: string): ForceUnit {
  const unit = parseForceUnit(word)
  if (unit === null || unit === 'counts')
    throw new InvalidArgumentError(`It must be one of ${FORCE_UNITS.join(', ')}.`)
  return unit
}

export function positive(word: string): number {
  const value = Number(word)
  if (word.trim() === '' || !Number.isFinite(value) || value <= 0)
    throw new InvalidArgumentError('It must be a number above 0.')
  return value
}

/** For counts such as elements and seeds. */
export function wholeNumber(least: number): (word: string) => number {
  return word => {
    const value = Number(word)
    if (!/^\d+$/.test(word.trim()) || !Number.isSafeInteger(value) || value < least) {
      throw new InvalidArgumentError(`It must be a whole number, ${least} or more.`)
    }
    return value
  }
}
