import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { isDay, type SpecimenFields } from '../../core/study.ts'
import { type Table, tableNumber } from '../../logs/index.ts'
import type { Specimen, SpecimenEdit, Study } from '../../store/index.ts'
import { columnCalled, columnList } from '../compare/columns.ts'
import { named } from './inStudy.ts'

type Field = keyof SpecimenFields

const NUMBERS = {
  width_mm: 'widthMm',
  thickness_mm: 'thicknessMm',
  length_mm: 'lengthMm',
  elements: 'elements',
  order: 'pullOrder',
} as const
const WORDS = { operator: 'operator', batch: 'batch', note: 'note' } as const satisfies Record<string, Field>

const isWhole = (field: Field): boolean => field === 'elements' || field === 'pullOrder'

/** What a table says of specimens that are there, as the steps of one edit. An empty cell says nothing, `-` clears. */
export function cellChanges(
  table: Table,
  specimens: readonly Specimen[],
  study: Pick<Study, 'name'>,
): Outcome<SpecimenEdit[]> {
  const column = (name: string) => columnCalled(table, [name])
  if (column('specimen') < 0)
    return wrong({
      where: table.name,
      what: `there is no column “specimen”, only ${columnList(table)}.`,
      cure: 'Name the specimen of each row in it.',
    })
  const problems: Problem[] = []
  const steps: SpecimenEdit[] = []
  for (const { cells, line } of table.rows) {
    const cell = (name: string): string => cells[column(name)] ?? ''
    const found = named(specimens, [cell('specimen')], study)
    if (!found.ok) {
      problems.push(...found.problems.map(one => ({ ...one, where: `${table.name}, line ${line}` })))
      continue
    }
    const specimenId = found.value[0]!.id
    const fields: Record<string, unknown> = {}
    for (const [name, field] of Object.entries(NUMBERS)) {
      const text = cell(name)
      if (text === '') continue
      const value = text === '-' ? null : tableNumber(table, text)
      const isWrong =
        text !== '-' && (value === null || value <= 0 || (isWhole(field) && !Number.isInteger(value)))
      if (isWrong)
        problems.push({
          where: `${table.name}, line ${line}, ${name}`,
          what: `“${printable(text)}” is not a ${isWhole(field) ? 'whole ' : ''}number above 0.`,
          cure: 'Mend the cell, leave it empty, or clear the figure with -.',
        })
      else fields[field] = value
    }
    for (const [name, field] of Object.entries(WORDS))
      if (cell(name) !== '') fields[field] = cell(name) === '-' ? '' : cell(name)
    const day = cell('day')
    if (day !== '' && day !== '-' && !isDay(day))
      problems.push({
        where: `${table.name}, line ${line}, day`,
        what: `“${printable(day)}” is not a day.`,
        cure: 'Write it as 2026-05-03, leave it empty, or clear it with -.',
      })
    else if (day !== '') fields.pulledOn = day === '-' ? null : day
    if (cell('mode') !== '') fields.failureMode = cell('mode') === '-' ? null : cell('mode')
    if (cell('name') !== '') fields.name = cell('name')
    if (Object.keys(fields).length > 0) steps.push({ kind: 'change', specimenId, fields })
    if (cell('variant') !== '')
      steps.push({
        kind: 'to-variant',
        specimenId,
        variant: cell('variant') === '-' ? null : cell('variant'),
      })
  }
  return problems.length > 0 ? wrong(...problems) : fine(steps)
}
