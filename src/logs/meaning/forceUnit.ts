import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { type LogForceUnit, N_PER } from '../../core/units/force.ts'
import { settledBy } from '../options.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { multipleForceUnitOf, type ScaledUnit } from '../words/units.ts'
import { greatest } from './chooseForce.ts'
import type { ColumnView } from './columnView.ts'
import { type StatedMaximum, unitByMaximum } from './statedMaximum.ts'

export interface FoundUnit {
  /** The unit of the log; of a unit that changes by row, the first. `null` where nobody tells it. */
  readonly unit: LogForceUnit | null
  readonly from: string
  readonly assumed: boolean
  /** Whether the numbers stand in the recording as they were read. */
  readonly isAsRead: boolean
}

/** So many rows without a unit before the first with one are no damage. */
const BARE_ROWS = 5

/** Numbers as large and whole as these come from a converter, not from a scale. */
const COUNTS_FROM = 20_000

/**
 * The unit of the force column, by option, cells, header, or a word above the samples; and all values →
 * newton, in place.
 */
export function toNewtonInPlace(
  force: ColumnView,
  table: SampleTable,
  given: LogForceUnit | undefined,
  stated: readonly StatedMaximum[],
  texts: readonly { line: number; text: string }[],
  name: string,
): Outcome<FoundUnit> {
  if (given === undefined && force.column.unitRuns.length > 0) return byCells(force, table, name)
  const found = given
    ? fine({ unit: { unit: given, times: 1 }, from: 'as told', assumed: false })
    : byWords(force, stated, texts, name)
  if (!found.ok) return found
  scale(force.column.values, 0, table.rows, found.value.unit)
  const { unit, from, assumed } = found.value
  return fine({ unit: unit?.unit ?? null, from, assumed, isAsRead: unit === null || isUnscaled(unit) })
}

const isUnscaled = ({ unit, times }: ScaledUnit): boolean =>
  (unit === 'counts' || unit === 'N') && times === 1

function scale(values: Float64Array, from: number, to: number, unit: ScaledUnit | null): void {
  if (unit === null || isUnscaled(unit)) return
  const factor = unit.times * (unit.unit === 'counts' ? 1 : N_PER[unit.unit])
  for (let i = from; i < to; i++) values[i]! *= factor
}

/**
 * Units that stand in the cells may change from row to row. Where only a few cells carry one, in a log whose
 * header says the unit, these few are damaged: they count as unreadable, unless they agree with the header.
 */
function byCells(force: ColumnView, table: SampleTable, name: string): Outcome<FoundUnit> {
  const runs = force.column.unitRuns
  const ends = runs.map((_, i) => runs[i + 1]?.fromRow ?? table.rows)
  const carrying = runs.reduce((sum, run, i) => sum + (run.word === '' ? 0 : ends[i]! - run.fromRow), 0)
  const header = force.meaning.unit?.of === 'force' ? force.meaning.unit : null
  const units = runs.map(run => multipleForceUnitOf(run.word))
  if (header !== null && carrying < 0.5 * table.rows) {
    for (const [i, run] of runs.entries()) {
      if (run.word === '' || (units[i] && isSameUnit(units[i], header))) continue
      for (let row = run.fromRow; row < ends[i]!; row++) dropValue(force, table, row, run.word)
    }
    scale(force.column.values, 0, table.rows, header)
    return fine({ unit: header.unit, from: 'from the header', assumed: false, isAsRead: false })
  }
  const first = units.find(unit => unit !== null) ?? null
  const unknown = runs.filter((run, i) => run.word !== '' && units[i] === null)
  if (unknown.length > 0 || first === null) {
    return wrong(...unknown.slice(0, 5).map(run => unknownUnit(`${name}, line ${run.line}`, run.word)))
  }
  const kinds = new Set(units.flatMap(unit => (unit === null ? [] : [unit.unit === 'counts'])))
  if (kinds.size > 1) {
    return wrong({
      where: name,
      what: 'the unit changes between raw counts and a force.',
      cure: 'Split the log where it changes, or say with --unit what all of it is.',
      fields: settledBy('unit'),
    })
  }
  const bare = runs[0]!.fromRow
  if (header === null && bare >= BARE_ROWS)
    return wrong({
      where: `${name}, line ${runs[0]!.line}`,
      what: `the force has a unit (${first.unit}) only from here on; the ${bare} rows before have none.`,
      cure: 'Say with --unit what all of it is, or split the log there.',
      fields: settledBy('unit'),
    })
  // A cell without a unit is in the header's or, without one there, in that of the cell before; before the
  // first, in the first.
  let unit: ScaledUnit = header ?? first
  scale(force.column.values, 0, runs[0]!.fromRow, unit)
  for (const [i, run] of runs.entries()) {
    unit = units[i] ?? header ?? unit
    scale(force.column.values, run.fromRow, ends[i]!, unit)
  }
  const words = [...new Set(units.flatMap(found => (found === null ? [] : [found.unit])))]
  const from =
    words.length > 1 ? `beside each value, changing between ${words.join(' and ')}` : 'beside each value'
  return fine({ unit: first.unit, from, assumed: false, isAsRead: false })
}

const isSameUnit = (a: ScaledUnit, b: ScaledUnit): boolean => a.unit === b.unit && a.times === b.times

function dropValue(force: ColumnView, table: SampleTable, row: number, word: string): void {
  if (!Number.isFinite(force.column.values[row]!)) return
  table.unread(table.lineOf(row), `${force.column.values[row]} ${word}`)
  force.column.values[row] = Number.NaN
  force.column.missing++
}

interface UnitByWords {
  readonly unit: ScaledUnit | null
  readonly from: string
  readonly assumed: boolean
}

function byWords(
  force: ColumnView,
  stated: readonly StatedMaximum[],
  texts: readonly { line: number; text: string }[],
  name: string,
): Outcome<UnitByWords> {
  const { unit, unitText } = force.meaning
  if (unit?.of === 'force') {
    const shown = unit.times === 1 ? '' : `, ${Number(unit.times.toPrecision(6))} ${unit.unit} in each`
    return fine({ unit, from: `from the header${shown}`, assumed: false })
  }
  if (unitText !== '') {
    const from = `its header says “${printable(unitText, 40)}”, which is no unit of force known here`
    return fine({ unit: null, from, assumed: false })
  }
  const [first, second] = unitsInText(texts)
  if (first && second) {
    return wrong({
      where: name,
      what: `the unit of force is not clear: line ${first.line} has ${first.word}, line ${second.line} has ${second.word}.`,
      cure: 'Say which with --unit.',
      fields: settledBy('unit'),
    })
  }
  if (first) return fine({ unit: first.unit, from: `from line ${first.line}`, assumed: false })
  const byMaximum = stated.length > 0 ? unitByMaximum(stated, greatest(force)) : null
  if (byMaximum)
    return fine({
      unit: byMaximum.unit,
      from: `from the greatest load in line ${byMaximum.line}, which is that of the readings`,
      assumed: false,
    })
  if (force.run().whole && greatest(force) >= COUNTS_FROM)
    return fine({
      unit: { unit: 'counts', times: 1 },
      from: 'assumed, since all are large whole numbers',
      assumed: true,
    })
  return fine({ unit: null, from: 'the log names none', assumed: false })
}

interface UnitInText {
  readonly unit: ScaledUnit
  readonly word: string
  readonly line: number
}

/**
 * Units of force named in the lines above and between the samples, each with its first line. A quantity
 * (`capacity 50 kg`) tells the unit of itself only. Lone letters count only after `unit`, but for N and g.
 */
function unitsInText(texts: readonly { line: number; text: string }[]): UnitInText[] {
  const found: UnitInText[] = []
  for (const { line, text } of texts) {
    const words = [...text.matchAll(/[\p{L}µ]+/gu)]
    for (const [i, { 0: word, index }] of words.entries()) {
      const saidAfter = /unit|einheit|unit[éà]|unidad|unidade|eenheid|jednostka|единиц|单位|単位|單位/i.test(
        words[i - 1]?.[0] ?? '',
      )
      const unit = isLoneLetter(word, saidAfter) ? null : multipleForceUnitOf(word)
      // `raw`, `count`, `ton`, `pond` and the like are common words too.
      if (
        unit === null ||
        (unit.unit === 'counts' && !saidAfter) ||
        (/^(?:ton|pond|pound|t|kilo|gr|raw|mg|dan)$/i.test(word) && !saidAfter) ||
        isOfQuantity(text, index, word)
      )
        continue
      if (!found.some(other => isSameUnit(other.unit, unit))) found.push({ unit, word, line })
    }
  }
  return found
}

const isLoneLetter = (word: string, saidAfter: boolean): boolean =>
  word.length === 1 && !saidAfter && !/^(?:N|g)$/.test(word)

/**
 * Behind a number or where one is missing (`50 kg`, `0,g`, `NaN mN`), or a part of another word or unit
 * (`N/A`, `N/mm`).
 */
function isOfQuantity(text: string, index: number, word: string): boolean {
  return (
    /(?:\d|nan|n\/a|-{2,})[\s,;:|"'_]*[[(]?$/i.test(text.slice(0, index)) ||
    /^\s?[/·*^]\s?\p{L}/u.test(text.slice(index + word.length))
  )
}

const unknownUnit = (where: string, word: string): Problem => ({
  where,
  what: `“${printable(word)}” is no unit of force known here.`,
  cure: 'Say with --unit what it is: N, kN, mN, kgf, gf, tf, lbf, ozf, kip, or counts.',
  fields: settledBy('unit'),
})
