import type { Problem } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import { texts } from '../texts/index.ts'

export const OPTION_NAMES = [
  'rateHz',
  'time',
  'timeUnit',
  'force',
  'unit',
  'tension',
  'decimal',
  'encoding',
] as const
export type OptionName = (typeof OPTION_NAMES)[number]

/** What the engine calls an option where it names a cure, and the option. */
const CALLED: Readonly<Record<string, OptionName>> = {
  rate: 'rateHz',
  time: 'time',
  'time-unit': 'timeUnit',
  force: 'force',
  unit: 'unit',
  tension: 'tension',
  decimal: 'decimal',
  encoding: 'encoding',
}
/** `for instance --rate 80`: in the field itself, only the figure is typed. */
const EXAMPLE = /(?<=for instance )--\w+ (\S+)/g
const MENTION = /--(rate|time-unit|time|force|unit|tension|decimal|encoding)\b/g

/** The options that settle these problems, in the order of their cures: their fields are shown beside them. */
export function curedBy(problems: readonly Problem[]): OptionName[] {
  const settling = new Set(problems.flatMap(({ fields = [] }) => fields))
  return [...settling].flatMap(field => OPTION_NAMES.find(name => name === field) ?? [])
}

/** A text of the engine with the fields of this page in the place of the options of the command line. */
export const withFields = (text: string): string =>
  text.replace(EXAMPLE, '$1').replace(MENTION, (whole, called: string) => {
    const option = CALLED[called]
    return option === undefined ? whole : `“${texts.import.options[option]}”`
  })

/** The options with one of them said, or (empty) not said any more. */
export function withOption(options: LogOptions, name: OptionName, typed: string): LogOptions {
  const { [name]: _, ...others } = options
  const text = typed.trim()
  if (text === '') return others
  if (name !== 'rateHz') return { ...others, [name]: text }
  const rateHz = Number(text.replace(',', '.'))
  return rateHz > 0 && Number.isFinite(rateHz) ? { ...others, rateHz } : others
}
