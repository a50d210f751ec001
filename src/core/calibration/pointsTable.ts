import { printable } from '../printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../problem.ts'
import { type LogForceUnit, N_PER, parseForceUnit } from '../units/force.ts'
import type { Warning } from './document.ts'
import type { LoadUnit, PointRow } from './pointsDocument.ts'

/** Cells of a points file, row by row, as whoever opened it parted them. */
export interface PointsTable {
  readonly name: string
  /** `null` where the file has no header: then the first column is the load and the second the reading. */
  readonly header: readonly string[] | null
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[]
}

export interface PointRows {
  readonly rows: readonly PointRow[]
  readonly readingUnit: LogForceUnit
  readonly warnings: readonly Warning[]
}

export interface PointsTableOptions {
  readonly loadUnit?: string
  readonly readingUnit?: string
}

type Role = 'load' | 'stack' | 'reading' | 'direction' | 'cycle' | 'tolerance' | 'density'

/** First words of a header, and the role that they give a column. */
const ROLES: readonly (readonly [RegExp, Role])[] = [
  [/^(stack|references?\b)/, 'stack'],
  [/^(tolerance|limits?\b|±)/, 'tolerance'],
  [/^density/, 'density'],
  [/^(direction|dir\b|way)/, 'direction'],
  [/^(cycle|run|series|repeat)/, 'cycle'],
  [/^(reading|indicat|counts?\b|raw|output|display|adc)/, 'reading'],
  [/^(mass|weight|load|applied|force|known|true|standard)/, 'load'],
]

const POUND_KG = 0.453_592_37

/** Words for a mass, in lower case. */
// biome-ignore format: a table reads better in rows
const MASS_KG: Readonly<Record<string, number>> = {
  kg: 1, kgs: 1, kilo: 1, kilos: 1, kilogram: 1, kilograms: 1,
  g: 0.001, gram: 0.001, grams: 0.001, mg: 1e-6, t: 1000,
  lb: POUND_KG, lbs: POUND_KG, pound: POUND_KG, pounds: POUND_KG,
  oz: POUND_KG / 16, ounce: POUND_KG / 16, ounces: POUND_KG / 16,
}

/** `kg` is a mass here and `kgf` a force: on a hook they differ by the gravity of the place. */
export function parseLoadUnit(word: string): LoadUnit | null {
  const bare = word.trim()
  const kg = MASS_KG[bare.toLowerCase()]
  if (kg !== undefined) return { kind: 'mass', factor: kg, name: bare }
  const unit = parseForceUnit(bare)
  return unit === null || unit === 'counts' ? null : { kind: 'force', factor: N_PER[unit], name: unit }
}

interface Column {
  readonly at: number
  readonly title: string
  readonly unit: string | null
}

/** The rows of a points file, with every fault of it named by its line. */
export function readPointRows(table: PointsTable, options: PointsTableOptions = {}): Outcome<PointRows> {
  const columns = columnsOf(table)
  if (!columns.ok) return columns
  const warnings: Warning[] = []
  const problems: Problem[] = []
  const unitOfLoads = defaultLoadUnit(table, columns.value, options, warnings, problems)
  const readingUnit = unitOfReadings(table, columns.value, options, warnings, problems)
  const rows = table.rows.flatMap(row => {
    const outcome = readRow(table.name, row, columns.value, unitOfLoads)
    if (outcome.ok) return [outcome.value]
    problems.push(...outcome.problems)
    return []
  })
  problems.push(...mixedKinds(table.name, rows))
  if (problems.length > 0 || readingUnit === null) return wrong(...problems)
  const units = [...new Set(rows.flatMap(row => row.loadUnit?.name ?? []))]
  if (units.length > 1)
    warnings.push({
      code: 'units-mixed',
      text: `The loads are in several units (${units.join(', ')}): each row was converted by its own.`,
    })
  return fine({ rows, readingUnit, warnings })
}

function columnsOf({ name, header, rows }: PointsTable): Outcome<ReadonlyMap<Role, Column>> {
  const found = new Map<Role, Column>()
  if (header === null) {
    if ((rows[0]?.cells.length ?? 0) >= 2) {
      found.set('load', { at: 0, title: '', unit: null })
      found.set('reading', { at: 1, title: '', unit: null })
      return fine(found)
    }
  } else {
    header.forEach((cell, at) => {
      const { title, unit } = titleAndUnit(cell)
      const role = ROLES.find(([pattern]) => pattern.test(title.toLowerCase()))?.[1]
      if (role !== undefined && !found.has(role)) found.set(role, { at, title, unit })
    })
    if (found.has('reading') && (found.has('load') || found.has('stack'))) return fine(found)
  }
  const missing = [
    ...(found.has('load') || found.has('stack') ? [] : ['the loads (mass, force or stack)']),
    ...(found.has('reading') ? [] : ['the readings (reading, counts or indicated)']),
  ]
  return wrong({
    where: header === null ? name : `${name}, header “${printable(header.join(', '))}”`,
    what: `no column with ${missing.join(' and none with ')}.`,
    cure: 'Give the columns headers such as “mass (kg)”, “reading (counts)”, “direction” and “cycle”.',
  })
}

/** `applied (N)`, `mass [kg]`, `mass_kg`, `reading, counts` → title and unit. */
function titleAndUnit(cell: string): { title: string; unit: string | null } {
  const text = cell.trim()
  const bracket = /^(.*?)\s*[([]\s*([^)\]]*?)\s*[)\]]$/.exec(text)
  if (bracket) return { title: bracket[1]!, unit: bracket[2]! }
  const tail = /^(.*?)[\s_,/-]+([^\s_,/-]+)$/.exec(text)
  if (tail && (parseLoadUnit(tail[2]!) || parseForceUnit(tail[2]!)))
    return { title: tail[1]!, unit: tail[2]! }
  const camel = /^(.*[a-z])(N|Kg|KG)$/.exec(text)
  if (camel) return { title: camel[1]!, unit: camel[2]!.length === 1 ? 'N' : 'kg' }
  return { title: text, unit: null }
}

function defaultLoadUnit(
  { name }: PointsTable,
  columns: ReadonlyMap<Role, Column>,
  options: PointsTableOptions,
  warnings: Warning[],
  problems: Problem[],
): LoadUnit | null {
  const column = columns.get('load')
  if (!column) return null
  const word = options.loadUnit ?? column.unit
  if (word !== null) {
    const unit = parseLoadUnit(word)
    if (unit === null)
      problems.push({
        where: `${name}, column “${printable(column.title)}”`,
        what: `“${printable(word)}” is not a unit of mass or force known here.`,
        cure: 'Use kg, g, lb or oz for masses, N, kN, kgf, gf, lbf or ozf for forces.',
      })
    return unit
  }
  const assumed = /^(mass|weight)/i.test(column.title) ? 'kg' : 'N'
  warnings.push({
    code: 'unit-assumed',
    text: `The loads carry no unit: taken as ${assumed}. Write it in the header.`,
  })
  return parseLoadUnit(assumed)
}

function unitOfReadings(
  { name, rows }: PointsTable,
  columns: ReadonlyMap<Role, Column>,
  options: PointsTableOptions,
  warnings: Warning[],
  problems: Problem[],
): LogForceUnit | null {
  const column = columns.get('reading')!
  const inTitle = /^(counts?|raw|adc)\b/i.test(column.title) ? 'counts' : null
  const inCell = /[a-zA-Z]+$/.exec(rows[0]?.cells[column.at]?.trim() ?? '')?.[0] ?? null
  const word = options.readingUnit ?? column.unit ?? inTitle ?? inCell
  if (word === null) {
    warnings.push({
      code: 'reading-unit-assumed',
      text: 'The readings carry no unit: taken as counts. Write the unit in the header.',
    })
    return 'counts'
  }
  const unit = parseForceUnit(word)
  if (unit === null)
    problems.push({
      where: `${name}, column “${printable(column.title)}”`,
      what: `“${printable(word)}” is not a unit of reading known here.`,
      cure: 'Use counts, N, kgf, gf, lbf or another unit of force.',
    })
  return unit
}

function readRow(
  file: string,
  { line, cells }: PointsTable['rows'][number],
  columns: ReadonlyMap<Role, Column>,
  unitOfLoads: LoadUnit | null,
): Outcome<PointRow> {
  const where = `${file}, line ${line}`
  const problems: Problem[] = []
  const text = (role: Role): string => {
    const column = columns.get(role)
    return column === undefined ? '' : (cells[column.at] ?? '').trim()
  }
  const number = (role: Role, name: string): number | null => {
    const given = text(role)
    if (given === '') return null
    const parsed = numberAndUnit(given)
    if (parsed === null)
      problems.push({
        where: `${where}, ${name}`,
        what: `“${printable(given)}” is not a number.`,
        cure: 'Correct the cell, or take the row out.',
      })
    return parsed?.value ?? null
  }
  const loadText = text('load')
  const cellUnit = numberAndUnit(loadText)?.unit ?? ''
  const loadUnit = cellUnit === '' ? unitOfLoads : parseLoadUnit(cellUnit)
  if (cellUnit !== '' && loadUnit === null)
    problems.push({
      where: `${where}, load`,
      what: `“${printable(cellUnit)}” is not a unit of mass or force known here.`,
      cure: 'Use kg, g, N, kgf, lbf or another unit of mass or force.',
    })
  const stack = text('stack')
  const load = number('load', 'load')
  if (load === null && stack === '' && problems.length === 0)
    problems.push({
      where,
      what: 'the row has no load.',
      cure: 'Give the load; for the empty hook write 0.',
    })
  const reading = number('reading', 'reading')
  if (reading === null && text('reading') === '')
    problems.push({ where, what: 'the row has no reading.', cure: 'Give the reading, or take the row out.' })
  if (load !== null && load < 0)
    problems.push({
      where: `${where}, load`,
      what: `a load of ${load} is below zero.`,
      cure: 'Loads are what hangs on the rig, 0 or more; a push is calibrated with its readings’ own sign.',
    })
  const direction = directionOf(text('direction'), where, problems)
  const tolerance = number('tolerance', 'tolerance')
  const density = number('density', 'density')
  const cycle = number('cycle', 'cycle')
  if (problems.length > 0) return wrong(...problems)
  return fine({
    line,
    load,
    loadUnit: load === null ? null : loadUnit,
    stack: stack === '' ? null : stack,
    tolerance: limitOf(text('tolerance'), tolerance, load),
    densityKgM3: density,
    reading: reading!,
    readingDecimals: /[.,](\d+)/.exec(text('reading'))?.[1]?.length ?? 0,
    direction,
    cycle,
  })
}

/** `5` in the load's own unit, or `0.5 %` of the load. */
function limitOf(text: string, value: number | null, load: number | null): number | null {
  if (value === null) return null
  return Math.abs(text.endsWith('%') ? (value / 100) * (load ?? 0) : value)
}

/** A number as people write it, with a decimal point or comma, and the unit after it, if any. */
function numberAndUnit(text: string): { value: number; unit: string } | null {
  const parts = /^([-+−]?[\d.,]+(?:[eE][-+]?\d+)?)\s*([^\d\s]*)$/.exec(text)
  if (!parts) return null
  const digits = parts[1]!.replace('−', '-')
  const value = Number(digits.includes('.') ? digits : digits.replace(',', '.'))
  return Number.isFinite(value) ? { value, unit: parts[2]! } : null
}

function directionOf(text: string, where: string, problems: Problem[]): 'up' | 'down' | null {
  if (text === '') return null
  if (/^(u|up|rising|increasing|loading|\+|↑)$/i.test(text)) return 'up'
  if (/^(d|down|falling|decreasing|unloading|-|↓)$/i.test(text)) return 'down'
  problems.push({
    where: `${where}, direction`,
    what: `“${printable(text)}” is neither up nor down.`,
    cure: 'Write up or down, or leave the cell empty.',
  })
  return null
}

/** Kilograms and newtons in one column are most often a slip of the pen. */
function mixedKinds(file: string, rows: readonly PointRow[]): Problem[] {
  const mass = rows.find(row => row.loadUnit?.kind === 'mass')
  const force = rows.find(row => row.loadUnit?.kind === 'force')
  if (!mass || !force) return []
  return [
    {
      where: `${file}, lines ${Math.min(mass.line, force.line)} and ${Math.max(mass.line, force.line)}`,
      what: `some loads are masses (${mass.loadUnit?.name}) and some are forces (${force.loadUnit?.name}).`,
      cure: 'Give all loads as masses or all as forces: between them stands the gravity of the place.',
    },
  ]
}
