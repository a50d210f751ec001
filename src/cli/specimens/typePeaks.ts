import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { TypedPeak } from '../../core/reading/typedReading.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { type Table, tableNumber } from '../../logs/index.ts'
import type { SpecimenEdit } from '../../store/index.ts'
import { columnCalled, columnList } from '../compare/columns.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { tell } from '../tell.ts'
import { edit, type InStudy, inStudy, type StudyFlags } from './inStudy.ts'
import { openTable } from './openTable.ts'

interface TypeFlags extends StudyFlags {
  readonly unit: ForceUnit
}

interface TypedRow {
  readonly specimen: string
  readonly variant: string | null
  readonly peak: TypedPeak
}

/** Keeps typed peaks as specimens of the study; those that are not there yet are made, as one change, and so is the study. */
export async function typePeaks(path: string, flags: TypeFlags, io: Io): Promise<ExitCode> {
  const table = await openTable(path)
  const rows = table.ok ? rowsOf(table.value, flags) : table
  if (!rows.ok) return tell(io, rows.problems, EXIT.input)
  const work = async ({ store, study, specimens }: InStudy): Promise<ExitCode> => {
    const recorded: Problem[] = []
    for (const { specimen } of rows.value) {
      const known = specimens.find(({ name }) => name === specimen)
      const logs = known ? (await store.recordings.list({ specimenId: known.id, limit: 1 })).items.length : 0
      if (logs > 0)
        recorded.push({
          where: `specimen “${printable(specimen)}”`,
          what: 'it was recorded, and its curve says what its peak is.',
          cure: 'Type the peak under another name.',
        })
    }
    if (recorded.length > 0) return tell(io, recorded, EXIT.input)
    const steps = rows.value.flatMap(({ specimen, variant, peak }): SpecimenEdit[] => {
      const known = specimens.find(({ name }) => name === specimen)
      if (!known) return [{ kind: 'add', name: specimen, variant, fields: { typedPeak: peak } }]
      const { id: specimenId } = known
      return [
        { kind: 'change', specimenId, fields: { typedPeak: peak, status: 'pulled' } },
        ...(variant === null ? [] : [{ kind: 'to-variant', specimenId, variant } as const]),
      ]
    })
    return edit(
      { store, study, specimens },
      steps,
      `${rows.value.length} typed ${rows.value.length === 1 ? 'peak' : 'peaks'}`,
      flags,
      io,
    )
  }
  return inStudy(flags, io, work, { makesNew: true })
}

function rowsOf(table: Table, { unit, who }: TypeFlags): Outcome<TypedRow[]> {
  const column = (name: string) => columnCalled(table, [name])
  const missing = ['specimen', 'peak'].filter(name => column(name) < 0)
  if (missing.length > 0)
    return wrong({
      where: table.name,
      what: `there is no column ${missing.map(name => `“${name}”`).join(' and ')}, only ${columnList(table)}.`,
      cure: 'Name the columns in the first line: specimen, peak, and any of variant, step, doubt.',
    })
  const problems: Problem[] = []
  const rows = table.rows.map(({ cells, line }): TypedRow => {
    const cell = (name: string): string => cells[column(name)] ?? ''
    const positive = (name: string, text: string): number | null => {
      if (text === '') return null
      const value = tableNumber(table, text)
      if (value !== null && value > 0) return value
      problems.push({
        where: `${table.name}, line ${line}, ${name}`,
        what: `“${printable(text)}” is not a number above 0.`,
        cure: 'Mend the cell.',
      })
      return null
    }
    const isAtLeast = /^[>≥]/.test(cell('peak'))
    const value = positive('peak', cell('peak').replace(/^[>≥]=?\s*/, ''))
    if (cell('peak') === '' || cell('specimen') === '')
      problems.push({
        where: `${table.name}, line ${line}`,
        what: 'a row needs a specimen and a peak.',
        cure: 'Fill it in, or leave the row out.',
      })
    return {
      specimen: cell('specimen'),
      variant: cell('variant') || null,
      peak: {
        value: value ?? 0,
        unit,
        isAtLeast,
        step: positive('step', cell('step')),
        doubt: positive('doubt', cell('doubt')),
        who,
      },
    }
  })
  return problems.length > 0 ? wrong(...problems) : fine(rows)
}
