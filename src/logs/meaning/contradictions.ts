import { printable } from '../../core/printable.ts'
import type { Assumption } from '../../core/recording.ts'
import type { LogForceUnit } from '../../core/units/force.ts'
import type { Layout } from '../lines/layout.ts'
import type { LogOptions } from '../options.ts'
import { multipleForceUnitOf } from '../words/units.ts'
import type { ChosenColumns } from './chooseColumns.ts'
import { type ColumnView, unitWord } from './columnView.ts'
import { meanStep, middleStep } from './timeBase.ts'
import { timeUnit } from './timeUnit.ts'

/** Rates that differ by less agree: a rig seldom keeps its nominal rate exactly. */
const SAME_RATE = 0.02

const contradiction = (text: string): Assumption => ({ code: 'contradiction', text })

/** Where --decimal is not the mark by which the log's own numbers read best. */
export const decimalContradictions = ({ decimalAgainst }: Layout, { decimal }: LogOptions): Assumption[] =>
  decimalAgainst === null || decimal === undefined
    ? []
    : [
        contradiction(
          `“${printable(decimalAgainst)}” reads best with a decimal ${decimal === 'comma' ? 'point' : 'comma'}; the decimal mark is taken to be a ${decimal}, as told.`,
        ),
      ]

/** Where two rows of units below the names do not say the same of the unit of force. */
export function unitRowContradictions(force: ColumnView, layout: Layout, options: LogOptions): Assumption[] {
  if (layout.kind !== 'cells' || options.unit !== undefined) return []
  const { units = [], otherUnits } = layout.header ?? {}
  const first = multipleForceUnitOf(units[force.index] ?? '')
  const other = multipleForceUnitOf(otherUnits?.cells[force.index] ?? '')
  if (!otherUnits || first === null || other === null) return []
  return first.unit === other.unit && first.times === other.times
    ? []
    : [
        contradiction(
          `Two rows of units stand below the names, ${first.unit} and in line ${otherUnits.line} ${other.unit}; the first is followed. Give --unit to say what it is.`,
        ),
      ]
}

/**
 * Where the header, the cells and --unit do not say the same of the unit of force. `unit` is that which was
 * taken.
 */
export function unitContradictions(
  force: ColumnView,
  unit: LogForceUnit | null,
  options: LogOptions,
): Assumption[] {
  const header = force.meaning.unit?.of === 'force' ? force.meaning.unit.unit : null
  const word = unitWord(force.column)
  const cells = word === undefined ? null : (multipleForceUnitOf(word)?.unit ?? null)
  if (options.unit !== undefined) {
    const log = cells ?? header
    return log === null || log === unit
      ? []
      : [contradiction(`The log says that ${force.shown} is in ${log}; it is read in ${unit}, as told.`)]
  }
  if (header === null || cells === null || cells === header || unit === header) return []
  return [
    contradiction(
      `The header of ${force.shown} says ${header}, its cells say ${cells}; the cells are followed. Give --unit to say what it is.`,
    ),
  ]
}

/**
 * Where --rate is given although a column says another rate: a guessed one gives way, one that is a time does
 * not.
 */
export function rateContradictions(
  { time: own, overruled, overrulesRate }: Pick<ChosenColumns, 'time' | 'overruled' | 'overrulesRate'>,
  rows: number,
  { rateHz, timeUnit: given }: LogOptions,
): Assumption[] {
  const time = overrulesRate ? own : overruled
  if (time === null || rateHz === undefined || rows < 2) return []
  const step = time.column.form === 'number' ? stepOf(time, rows, given) : null
  if (step !== null && (!(step > 0) || Math.abs(step * rateHz - 1) < SAME_RATE)) return []
  const says = step === null ? 'are a clock' : `say ${Number((1 / step).toPrecision(3))} samples a second`
  return [
    contradiction(
      overrulesRate
        ? `The times in ${time.shown} ${says}; they are followed, and the rate of ${rateHz} that was told is not.`
        : `The times in ${time.shown} ${says}; ${rateHz} is taken, as told.`,
    ),
  ]
}

function stepOf(time: ColumnView, rows: number, given: LogOptions['timeUnit']): number {
  const values = time.column.values.subarray(0, rows)
  const segments = [{ from: 0, to: rows, began: 'start', shiftS: 0 }] as const
  return meanStep(values, segments, middleStep(values)) * timeUnit(time, rows, null, given).secondsInUnit
}
