import { InvalidArgumentError } from 'commander'
import type { LoadUnit } from '../core/calibration/pointsDocument.ts'
import { parseLoadUnit } from '../core/calibration/pointsTable.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import { type LogForceUnit, parseForceUnit } from '../core/units/force.ts'

export interface Load {
  readonly value: number
  readonly unit: LoadUnit
}

const FORM = /^([-+]?[\d.,]+(?:[eE][-+]?\d+)?)\s*(\S*)$/

function parted(word: string): { value: number; unit: string } {
  const [, digits = '', unit = ''] = FORM.exec(word.trim()) ?? []
  const value = Number(digits.includes('.') ? digits : digits.replace(',', '.'))
  if (digits === '' || !Number.isFinite(value))
    throw new InvalidArgumentError('It must be a number with its unit.')
  return { value, unit }
}

/** `1.000kg`, `500 g`, `10N`: a mass or a force above 0. */
export function load(word: string): Load {
  const { value, unit } = parted(word)
  const known = parseLoadUnit(unit)
  if (known === null)
    throw new InvalidArgumentError('It must end in a unit of mass or force: kg, g, N, kgf, lbf …')
  if (!(value > 0)) throw new InvalidArgumentError('It must be above 0.')
  return { value, unit: known }
}

/** A load in newton where it is a force or the rating of a cell: there a kilogram counts as a kilogram-force. */
export function forceN(word: string): number {
  const { value, unit } = load(word)
  return unit.kind === 'force' ? value * unit.factor : value * unit.factor * 9.806_65
}

export interface TypedReading {
  readonly value: number
  /** `null` where none was typed. */
  readonly unit: LogForceUnit | null
  /** Half a unit of the last digit. */
  readonly halfDigit: number
}

/** `84321`, `1.02kg`: a reading as the rig shows it. */
export function typedReading(word: string): TypedReading {
  const { value, unit } = parted(word)
  const known = unit === '' ? null : parseForceUnit(unit)
  if (unit !== '' && known === null)
    throw new InvalidArgumentError('Its unit is not known: counts, N, kgf, lbf …')
  const decimals = /[.,](\d+)/.exec(word)?.[1]?.length ?? 0
  return { value, unit: known, halfDigit: 0.5 * 10 ** -decimals }
}

/** Limits ±: `0.5%` of the load, or `5g` and the like. */
export type Tolerance = { readonly share: number } | Load

export function tolerance(word: string): Tolerance {
  if (!word.trim().endsWith('%')) return load(word)
  const value = Number(word.trim().slice(0, -1).replace(',', '.'))
  if (!(value > 0)) throw new InvalidArgumentError('It must be above 0 %, as in 0.5%.')
  return { share: value / 100 }
}

/** A per cent above 0, with or without its sign. */
export function percent(word: string): number {
  const value = Number(word.trim().replace('%', '').replace(',', '.'))
  if (!(value > 0) || !Number.isFinite(value))
    throw new InvalidArgumentError('It must be a per cent above 0.')
  return value
}

/** Limits ± in the unit of the load that they are of; a mass has no limits in newton. */
export function limitsOf(of: Load, given: Tolerance | undefined): Outcome<number | null> {
  if (given === undefined) return fine(null)
  if ('share' in given) return fine(given.share * of.value)
  if (given.unit.kind !== of.unit.kind)
    return wrong({
      where: '--mass-tolerance',
      what: `limits in ${given.unit.name} do not go with a load in ${of.unit.name}.`,
      cure: 'Give them in per cent, or as a mass of a mass and a force of a force.',
    })
  return fine((given.value * given.unit.factor) / of.unit.factor)
}

/** A day of the calendar, `2026-05-03`. */
export function day(word: string): string {
  const at = new Date(`${word}T00:00:00Z`)
  if (
    !/^\d{4}-\d{2}-\d{2}$/.test(word) ||
    Number.isNaN(at.valueOf()) ||
    at.toISOString().slice(0, 10) !== word
  )
    throw new InvalidArgumentError('It must be a day such as 2026-05-03.')
  return word
}

/** Today by this computer's clock and place. */
export function today(): string {
  const now = new Date()
  const two = (value: number) => String(value).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
