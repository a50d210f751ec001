import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { type LogForceUnit, N_PER } from '../../core/units/force.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { forceUnitOf } from '../words/units.ts'
import { greatest } from './chooseColumns.ts'
import type { ColumnView } from './columnView.ts'

export interface FoundUnit {
  /** The unit of the log; of a unit that changes by row, the first. */
  readonly unit: LogForceUnit
  readonly from: string
  readonly assumed: boolean
}

/** Numbers as large and whole as these come from a converter, not from a scale. */
const COUNTS_FROM = 20_000

/** The unit of the force column, by option, cells, header, or a word above the samples; and all values → newton, in place. */
export function toNewtonInPlace(
  force: ColumnView,
  table: SampleTable,
  given: LogForceUnit | undefined,
  texts: readonly { line: number; text: string }[],
  name: string,
): Outcome<FoundUnit> {
  const runs = force.column.unitRuns
  if (given === undefined && runs.length > 0) return byCells(force, table, name)
  const found = given ? fine({ unit: given, from: 'as told', assumed: false }) : byWords(force, texts, name)
  if (found.ok) scale(force.column.values, 0, table.rows, found.value.unit)
  return found
}

/** Whether the numbers of a column in this unit stand in the recording as they were read. */
export const isUnscaled = (unit: LogForceUnit): unit is 'counts' | 'N' => unit === 'counts' || unit === 'N'

function scale(values: Float64Array, from: number, to: number, unit: LogForceUnit): void {
  if (isUnscaled(unit)) return
  const factor = N_PER[unit]
  for (let i = from; i < to; i++) values[i]! *= factor
}

/**
 * Units that stand in the cells may change from row to row. Where only a few cells carry one, in a log whose header
 * says the unit, these few are damaged: they count as unreadable, unless they agree with the header.
 */
function byCells(force: ColumnView, table: SampleTable, name: string): Outcome<FoundUnit> {
  const runs = force.column.unitRuns
  const ends = runs.map((_, i) => runs[i + 1]?.fromRow ?? table.rows)
  const carrying = runs.reduce((sum, run, i) => sum + (run.word === '' ? 0 : ends[i]! - run.fromRow), 0)
  const header = force.meaning.unit?.of === 'force' ? force.meaning.unit.unit : null
  const damaged = header !== null && carrying < 0.5 * table.rows
  const units = runs.map(run => forceUnitOf(run.word))
  if (damaged) {
    for (const [i, run] of runs.entries()) {
      if (run.word === '' || units[i] === header) continue
      for (let row = run.fromRow; row < ends[i]!; row++) dropValue(force, table, row, run.word)
    }
    scale(force.column.values, 0, table.rows, header)
    return fine({ unit: header, from: 'from the header', assumed: false })
  }
  const first = units.find(unit => unit !== null) ?? null
  const unknown = runs.filter((run, i) => run.word !== '' && units[i] === null)
  if (unknown.length > 0 || first === null) {
    return wrong(...unknown.slice(0, 5).map(run => unknownUnit(`${name}, line ${run.line}`, run.word)))
  }
  const kinds = new Set(units.flatMap(unit => (unit === null ? [] : [unit === 'counts'])))
  if (kinds.size > 1) {
    return wrong({
      where: name,
      what: 'the unit changes between raw counts and a force.',
      cure: 'Split the log where it changes, or say with --unit what all of it is.',
    })
  }
  // A cell without a unit is in the header's or, without one there, in that of the cell before; before the first, in the first.
  let unit = header ?? first
  scale(force.column.values, 0, runs[0]!.fromRow, unit)
  for (const [i, run] of runs.entries()) {
    unit = units[i] ?? header ?? unit
    scale(force.column.values, run.fromRow, ends[i]!, unit)
  }
  const words = [...new Set(units.filter(found => found !== null))]
  const from =
    words.length > 1 ? `beside each value, changing between ${words.join(' and ')}` : 'beside each value'
  return fine({ unit: first, from, assumed: false })
}

function dropValue(force: ColumnView, table: SampleTable, row: number, word: string): void {
  if (!Number.isFinite(force.column.values[row]!)) return
  table.badRow(table.lineOf(row), `${force.column.values[row]} ${word}`)
  force.column.values[row] = Number.NaN
  force.column.missing++
}

function byWords(
  force: ColumnView,
  texts: readonly { line: number; text: string }[],
  name: string,
): Outcome<FoundUnit> {
  const { unit, unitText } = force.meaning
  if (unit?.of === 'force') return fine({ unit: unit.unit, from: 'from the header', assumed: false })
  if (unitText !== '') return wrong(unknownUnit(`${name}, ${force.shown}`, unitText))
  const inWords = unitsInText(texts)
  // `Capacity: 50 kg` names a unit, but of something else perhaps.
  const weak = inWords.said.size === 0
  const [first, second] = [...(weak ? inWords.inQuantities : inWords.said)]
  if (first && second) {
    return wrong({
      where: name,
      what: `the unit of force is not clear: line ${first[1]} has ${first[0]}, line ${second[1]} has ${second[0]}.`,
      cure: 'Say which with --unit.',
    })
  }
  if (first && weak)
    return fine({ unit: first[0], from: `as the quantity in line ${first[1]} has it`, assumed: true })
  if (first) return fine({ unit: first[0], from: `from line ${first[1]}`, assumed: false })
  const counts = force.run().whole && greatest(force) >= COUNTS_FROM
  return fine(
    counts
      ? { unit: 'counts', from: 'assumed, since all are large whole numbers', assumed: true }
      : { unit: 'N', from: 'assumed, since the log names no unit', assumed: true },
  )
}

/** Units and the first line of each: said as such, or only behind a number. */
interface UnitsInText {
  readonly said: ReadonlyMap<LogForceUnit, number>
  readonly inQuantities: ReadonlyMap<LogForceUnit, number>
}

/** Units of force named in the lines above and between the samples, each with its first line. Lone letters count only after `unit`. */
function unitsInText(texts: readonly { line: number; text: string }[]): UnitsInText {
  const said = new Map<LogForceUnit, number>()
  const inQuantities = new Map<LogForceUnit, number>()
  for (const { line, text } of texts) {
    const words = [...text.matchAll(/\p{L}+/gu)]
    for (const [i, { 0: word, index }] of words.entries()) {
      const after = words[i - 1]?.[0] ?? ''
      const unitSaid = /unit|einheit|unit[éà]|unidad|单位|単位/i.test(after)
      const unit = word.length === 1 && !unitSaid && !/^(?:N|g)$/.test(word) ? null : forceUnitOf(word)
      // `raw`, `count`, `ton`, `pond` and the like are common words too.
      if (
        unit === null ||
        (unit === 'counts' && !unitSaid) ||
        (/^(?:ton|pond|pound|t|kilo|gr|raw)$/i.test(word) && !unitSaid)
      )
        continue
      const found = /\d\s*$/.test(text.slice(0, index)) ? inQuantities : said
      if (!found.has(unit)) found.set(unit, line)
    }
  }
  return { said, inQuantities }
}

const unknownUnit = (where: string, word: string): Problem => ({
  where,
  what: `“${printable(word)}” is no unit of force known here.`,
  cure: 'Say with --unit what it is: N, kN, mN, kgf, gf, tf, lbf, ozf, kip, or counts.',
})
