import type { Assumption } from '../../core/recording.ts'
import type { Extent } from '../../core/signal/extent.ts'
import { fromNewton, type LogForceUnit, N_PER } from '../../core/units/force.ts'
import { parseNumber } from '../cells/number.ts'
import { headerMeaning } from '../words/header.ts'
import { multipleForceUnitOf, type ScaledUnit } from '../words/units.ts'
import type { TableContext } from './tableContext.ts'

/** A greatest load that the file itself states. */
export interface StatedMaximum {
  readonly value: number
  /** `null` where it is stated without one. */
  readonly unit: ScaledUnit | null
  readonly line: number
}

const MAXIMUM =
  /max|peak|greatest|highest|ultimate|höchst|spitze|bruchkraft|crête|picco|pico|breaking|最大|ピーク|пик|макс/iu
const MOST_STATED = 50
const MOST_LINES = 300

/**
 * `Maximum load: 12.3 kN`, `Fmax;N;178,2`, or a table of results with such a name at the head of a column.
 */
export function statedMaxima({ texts, layout }: TableContext): StatedMaximum[] {
  const lines = texts.slice(0, MOST_LINES)
  const found: StatedMaximum[] = []
  for (const [i, { line, text }] of lines.entries()) {
    if (found.length >= MOST_STATED) break
    if (!MAXIMUM.test(text)) continue
    const cells = cellsOfText(text)
    const numbers = cells.filter(cell => quantityOf(cell) !== null)
    if (numbers.length === 0) found.push(...inTable(cells, lines.slice(i + 1), layout))
    else if (cells.length <= 4) found.push(...inLine(cells, line))
  }
  return found
}

const cellsOfText = (text: string): string[] => {
  const mark = [';', '\t', '|', ','].find(sign => text.includes(sign))
  const cells = mark === undefined ? text.split(/\s*[:=]\s*|\s{2,}/) : text.split(mark)
  return cells
    .flatMap(cell => cell.split(/\s*[:=]\s+|\s=\s*/))
    .map(cell =>
      cell
        .trim()
        .replace(/^"(.*)"$/, '$1')
        .trim(),
    )
    .filter((cell, i, all) => cell !== '' || i < all.length - 1)
}

/** The number in a cell and the unit behind it. */
function quantityOf(cell: string): { readonly value: number; readonly unit: ScaledUnit | null } | null {
  const found = /^([+\-−]?\s?\d[\d.,]*(?:[eE][+-]?\d{1,3})?)\s*\[?([\p{L}µ]{0,12})\]?$/u.exec(cell)
  if (!found) return null
  const text = found[1] ?? ''
  const value = parseNumber(text, 'point') ?? parseNumber(text, 'comma')
  const word = found[2] ?? ''
  const unit = word === '' ? null : multipleForceUnitOf(word)
  return value === null || (word !== '' && unit === null) ? null : { value: Math.abs(value), unit }
}

function inLine(cells: readonly string[], line: number): StatedMaximum[] {
  const [name = '', ...rest] = cells
  const { role, unit } = headerMeaning(name)
  if (!MAXIMUM.test(name) || (role !== 'force' && !/^f\s?_?max$/i.test(name.trim()))) return []
  const stated = rest.map(quantityOf).find(value => value !== null)
  if (!stated || stated.value === 0) return []
  const word = rest.map(cell => multipleForceUnitOf(cell)).find(found => found !== null) ?? null
  const named = unit?.of === 'force' ? unit : null
  return [{ value: stated.value, unit: stated.unit ?? named ?? word, line }]
}

/**
 * The values under names of results, down to the first line that is none of them; a row of units may stand
 * between.
 */
function inTable(
  names: readonly string[],
  below: readonly { line: number; text: string }[],
  layout: TableContext['layout'],
): StatedMaximum[] {
  if (names.length < 2) return []
  const found: StatedMaximum[] = []
  let units: readonly string[] = []
  for (const [i, { line, text }] of below.slice(0, MOST_STATED).entries()) {
    if (layout.kind === 'cells' && layout.header !== null && line >= layout.header.line) break
    const cells = cellsOfText(text)
    if (cells.length !== names.length) break
    const values = cells.map(quantityOf)
    if (i === 0 && values.every(value => value === null)) {
      units = cells
      continue
    }
    for (const [c, name] of names.entries()) {
      const { role, unit } = headerMeaning(name, units[c] ?? '')
      const value = values[c]
      if (role !== 'force' || !MAXIMUM.test(name) || !value || value.value === 0) continue
      found.push({ value: value.value, unit: value.unit ?? (unit?.of === 'force' ? unit : null), line })
    }
  }
  return found
}

/** Two figures of one maximum differ by less: one is rounded, the other may be filtered. */
const SAME = 0.01

const isSame = (a: number, b: number): boolean => Math.abs(a - b) <= SAME * Math.abs(b)

/** The unit in which a stated maximum is the greatest of these numbers, for a log that names none. */
export function unitByMaximum(
  stated: readonly StatedMaximum[],
  greatest: number,
): (StatedMaximum & { readonly unit: ScaledUnit }) | null {
  for (const one of stated) {
    const { unit } = one
    if (unit !== null && isSame(greatest, one.value * unit.times)) return { ...one, unit }
  }
  return null
}

/**
 * What the file states as its greatest load, against the greatest reading: as it stands, and less the first
 * reading.
 */
export function compareMaximum(
  stated: readonly StatedMaximum[],
  forceN: Float64Array,
  { high, low, steadyHigh, first }: Extent,
  forceUnit: LogForceUnit | null,
): { readonly agrees: string; readonly assumption: Assumption | null } | null {
  if (stated.length === 0 || forceN.length === 0) return null
  const readings = [steadyHigh, high, steadyHigh - first, high - first, -low]
  const perUnit = forceUnit === null || forceUnit === 'counts' ? null : N_PER[forceUnit]
  const asRead = ({ value, unit }: StatedMaximum): number =>
    perUnit === null
      ? value
      : unit === null
        ? value * perUnit
        : value * unit.times * (unit.unit === 'counts' ? 1 : N_PER[unit.unit])
  const agreeing = stated.find(one => readings.some(reading => isSame(reading, asRead(one))))
  if (agreeing)
    return {
      agrees: `the greatest load in line ${agreeing.line}, ${shown(agreeing)}, agrees with the readings`,
      assumption: null,
    }
  const [only] = stated
  // Of several specimens in one file, another may be the one that is stated.
  if (!only || stated.length > 1) return null
  const greatest =
    perUnit === null || forceUnit === null || forceUnit === 'counts' ? high : fromNewton(high, forceUnit)
  return {
    agrees: '',
    assumption: {
      code: 'stated-maximum-differs',
      text: `Line ${only.line} states a greatest load of ${shown(only)}; the greatest reading is ${Number(greatest.toPrecision(5))}${forceUnit === null ? '' : ` ${forceUnit}`}. Column, unit or zero may be another than they are taken to be.`,
    },
  }
}

const shown = ({ value, unit }: StatedMaximum): string =>
  unit === null ? String(value) : `${value} ${unit.times === 1 ? unit.unit : `× ${unit.times} ${unit.unit}`}`
