import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { TypedPeak } from '../../core/reading/typedReading.ts'
import { type ForceUnit, parseForceUnit } from '../../core/units/force.ts'
import { type Table, tableNumber } from '../../logs/index.ts'
import type { SpecimenEdit } from '../../store/index.ts'
import { columnCalled, columnList, folded } from '../compare/columns.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { tell } from '../tell.ts'
import { edit, type InStudy, inStudy, type StudyFlags } from './inStudy.ts'
import { openTable } from './openTable.ts'

interface TypeFlags extends StudyFlags {
  /** Of peaks whose column does not tell it. */
  readonly unit?: ForceUnit
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

function rowsOf(table: Table, { unit: told, who }: TypeFlags): Outcome<TypedRow[]> {
  const columns = FORCES.map(name => forceColumn(table, name))
  const column = (name: string) =>
    FORCES.includes(name) ? columns[FORCES.indexOf(name)]!.at : columnCalled(table, [name])
  const missing = ['specimen', 'peak'].filter(name => column(name) < 0)
  if (missing.length > 0)
    return wrong({
      where: table.name,
      what: `there is no column ${missing.map(name => `“${name}”`).join(' and ')}, only ${columnList(table)}.`,
      cure: 'Name the columns in the first line: specimen, peak (with its unit as in peak_kgf, or --unit), and any of variant, step, doubt.',
    })
  const units = [...new Set(columns.flatMap(({ unit }) => unit ?? []).concat(told ?? []))]
  if (units.length > 1)
    return wrong({
      where: table.name,
      what: `its peaks, steps and doubts are told to be in ${units.join(' and in ')}.`,
      cure: 'Give them in one unit, in the heading or with --unit.',
    })
  const unit = units[0] ?? 'N'
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

/** Columns that hold a force. */
const FORCES: readonly string[] = ['peak', 'step', 'doubt']

/** A column of forces by its name, with the unit in its heading: `peak`, `Peak (kgf)`, `peak, N`, `peak_lbf`. */
function forceColumn(table: Table, name: string): { readonly at: number; readonly unit: ForceUnit | null } {
  const at = columnCalled(table, [name])
  if (at >= 0) return { at, unit: null }
  for (const [at, heading] of table.names.entries()) {
    const unit = parseForceUnit(/^\p{L}+[\s_,([]+([^\s)\]]+)[\s)\]]*$/u.exec(heading.trim())?.[1] ?? '')
    if (unit !== null && unit !== 'counts' && folded(heading).startsWith(`${name}_`)) return { at, unit }
  }
  return { at: -1, unit: null }
}
