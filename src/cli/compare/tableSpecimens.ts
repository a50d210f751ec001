import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Dimensions } from '../../core/statistics/compare/perDimension.ts'
import { plainSpecimen, type Specimen, type ValueStatus } from '../../core/statistics/compare/specimen.ts'
import { GREATEST_VALUE } from '../../core/statistics/group/moments.ts'
import { type ForceUnit, N_PER, parseForceUnit } from '../../core/units/force.ts'
import { type Table, type TableRow, tableNumber } from '../../logs/index.ts'
import { columnAt, columnCalled, columnList, folded } from './columns.ts'

/** Which columns hold what, as asked for; the rest is found by the usual names. */
export interface TableColumns {
  readonly group?: string
  readonly value?: string
  readonly block?: string
  /** What was measured on each beside the result. */
  readonly covariate?: string
  /** Unit of the values, where the header does not say. */
  readonly unit?: string
}

export interface TableSpecimens {
  readonly specimens: Specimen[]
  /** By group, line end and name. */
  readonly dimensions: ReadonlyMap<string, Dimensions>
  /** Name of the value's column, without its unit. */
  readonly column: string
  readonly unit: string
  /** Unit of force that the table has, where values were turned into newtons. */
  readonly forceUnit: ForceUnit | null
  readonly understood: string
}

/** Columns found by their names. */
const USUAL = {
  group: ['group', 'variant', 'kind', 'type', 'material', 'treatment', 'condition'],
  name: ['specimen', 'name', 'label', 'id', 'file'],
  status: ['status'],
  doubt: ['doubt', 'uncertainty', 'half_width'],
  mode: ['mode', 'failure_mode', 'failure'],
  day: ['day', 'date'],
  order: ['order', 'run', 'run_order'],
  dropped: ['dropped', 'dropped_because'],
  widthMm: ['width_mm'],
  thicknessMm: ['thickness_mm'],
  lengthMm: ['length_mm'],
} as const

const STATUSES: readonly ValueStatus[] = ['measured', 'at-least', 'not-recorded', 'not-reached']
/** Words for a value that is missing: the specimen is listed as not recorded. */
const MISSING = new Set(['', '-', '–', '—', 'na', 'n/a', 'nan', 'null', 'none', '?'])

/**
 * The specimens of a table: a row for each with a column of groups and one of values, or, where every column is of
 * numbers under a name, a column for each group. `>68.2` is a value that was reached without breaking.
 * Problems, all at once: no such column, several that could be meant, text among the values, an empty group.
 */
export function tableSpecimens(table: Table, asked: TableColumns): Outcome<TableSpecimens> {
  if (table.rows.length === 0)
    return wrong({
      where: table.name,
      what: 'the table has a header and no rows.',
      cure: 'Add a row for each specimen.',
    })
  return isWide(table, asked) ? wideSpecimens(table, asked) : longSpecimens(table, asked)
}

function isWide(table: Table, { group, value }: TableColumns): boolean {
  if (group !== undefined || value !== undefined || table.names.length < 2) return false
  if (Object.values(USUAL).some(names => columnCalled(table, names) >= 0)) return false
  return table.names.every(
    (name, c) => name !== '' && table.rows.every(row => cellValue(table, row.cells[c]!) !== 'text'),
  )
}

/** A column for each group; an empty cell is the end of a shorter one. */
function wideSpecimens(table: Table, { unit }: TableColumns): Outcome<TableSpecimens> {
  const scale = scaleOf(unit ?? '')
  const specimens = table.names.flatMap((group, c) =>
    table.rows.flatMap((row, i) => {
      const cell = cellValue(table, row.cells[c]!)
      return cell === 'text' || cell === null
        ? []
        : [valued(plainSpecimen(`${group} ${i + 1}`, group, 0), cell, scale.per)]
    }),
  )
  return fine({
    specimens,
    dimensions: new Map(),
    column: 'value',
    unit: scale.unit,
    forceUnit: scale.forceUnit,
    understood: `${table.name}: a group for each column, ${specimens.length} values`,
  })
}

/** The column of a covariate, −1 for none; a dimension has its usual name, and is looked up there. */
function columnBeside(table: Table, asked: string | undefined): Outcome<number> {
  if (asked === undefined) return fine(-1)
  const found = columnAt(table, asked)
  return found.ok || !['width', 'thickness', 'length'].includes(folded(asked)) ? found : fine(-1)
}

function longSpecimens(table: Table, asked: TableColumns): Outcome<TableSpecimens> {
  const columns = chooseColumns(table, asked)
  if (!columns.ok) return columns
  const { group, value, block } = columns.value
  const beside = columnBeside(table, asked.covariate)
  if (!beside.ok) return beside
  const covariate = beside.value
  const header = splitUnit(table.names[value]!)
  const scale = scaleOf(asked.unit ?? header.unit)
  const problems: Problem[] = []
  const dimensions = new Map<string, Dimensions>()
  const places = Object.fromEntries(
    Object.entries(USUAL).map(([key, names]) => [key, columnCalled(table, names)]),
  ) as Record<keyof typeof USUAL, number>
  const counts = new Map<string, number>()
  const specimens = table.rows.flatMap((row): Specimen[] => {
    const cell = (c: number): string => (c < 0 ? '' : row.cells[c]!)
    const number = (key: keyof typeof USUAL): number | null => {
      const text = cell(places[key])
      const found = MISSING.has(text.toLowerCase()) ? null : tableNumber(table, text)
      if (found === null && !MISSING.has(text.toLowerCase())) problems.push(noNumber(table, row, places[key]))
      return found
    }
    const name = cell(group)
    if (name === '') {
      problems.push({
        where: `${table.name}, line ${row.line}`,
        what: `the column “${printable(table.names[group]!)}” is empty.`,
        cure: 'Say to which group the value belongs, or take the row out.',
      })
      return []
    }
    const read = cellValue(table, cell(value))
    if (read === 'text') {
      problems.push(noNumber(table, row, value))
      return []
    }
    if (read !== null && Math.abs(read.value * scale.per) > GREATEST_VALUE) {
      const what = `“${printable(cell(value))}” is too great to be a measurement.`
      problems.push({ ...noNumber(table, row, value), what })
      return []
    }
    counts.set(name, (counts.get(name) ?? 0) + 1)
    const label = cell(places.name) || `${name} ${counts.get(name)}`
    const half = number('doubt')
    const status = statusOf(cell(places.status), table, row, problems)
    const plain = valued(plainSpecimen(label, name, 0), read, scale.per)
    dimensions.set(`${name}\n${label}`, {
      widthMm: number('widthMm'),
      thicknessMm: number('thicknessMm'),
      lengthMm: number('lengthMm'),
    })
    return [
      {
        ...plain,
        status:
          plain.value === null
            ? status === 'not-reached'
              ? status
              : 'not-recorded'
            : (status ?? plain.status),
        low: half === null || plain.value === null ? null : plain.value - half * scale.per,
        high: half === null || plain.value === null ? null : plain.value + half * scale.per,
        mode: cell(places.mode) || null,
        block: block < 0 ? null : cell(block) || null,
        day: cell(places.day) || null,
        order: number('order'),
        dropped: cell(places.dropped) || null,
        ...(covariate < 0 ? {} : { covariate: tableNumber(table, cell(covariate)) }),
      },
    ]
  })
  if (problems.length > 0) return wrong(...problems.slice(0, 20))
  return fine({
    specimens,
    dimensions,
    column: header.name,
    unit: scale.unit,
    forceUnit: scale.forceUnit,
    understood: `${table.name}: groups from “${printable(table.names[group]!)}”, values from “${printable(table.names[value]!)}”${scale.unit === '' ? ' (no unit known)' : ` in ${scale.forceUnit ?? scale.unit}`}, ${specimens.length} rows`,
  })
}

const noNumber = (table: Table, row: TableRow, column: number): Problem => ({
  where: `${table.name}, line ${row.line}, column “${printable(table.names[column] || String(column + 1))}”`,
  what: `“${printable(row.cells[column]!)}” is not a number.`,
  cure: 'Mend the cell; leave it empty where nothing was recorded, or write >12.3 where it held at least so much.',
})

function statusOf(text: string, table: Table, row: TableRow, problems: Problem[]): ValueStatus | null {
  if (text === '') return null
  const known = STATUSES.find(status => status === text.toLowerCase().replace(/[ _]/g, '-'))
  if (known) return known
  problems.push({
    where: `${table.name}, line ${row.line}, status`,
    what: `“${printable(text)}” is not a status.`,
    cure: `Write one of ${STATUSES.join(', ')}, or leave it empty.`,
  })
  return null
}

interface Cell {
  readonly value: number
  readonly atLeast: boolean
}

/** A value, a bound, nothing, or text that is none of these. */
function cellValue(table: Table, text: string): Cell | null | 'text' {
  if (MISSING.has(text.toLowerCase())) return null
  const bound = /^(?:>=|≥|>)\s*(.+)$/.exec(text)?.[1]
  const value = tableNumber(table, bound ?? text)
  return value === null || !Number.isFinite(value) ? 'text' : { value, atLeast: bound !== undefined }
}

function valued(plain: Specimen, cell: Cell | null, per: number): Specimen {
  if (cell === null) return { ...plain, status: 'not-recorded', value: null }
  return { ...plain, value: cell.value * per, status: cell.atLeast ? 'at-least' : 'measured' }
}

/** `peak (kgf)`, `peak, kgf`, `peak [kgf]` → name and unit. */
function splitUnit(header: string): { name: string; unit: string } {
  const found = /^(.*?)\s*(?:[([]\s*([^)\]]+)\s*[)\]]|,\s*(\S+))$/.exec(header)
  const unit = found?.[2] ?? found?.[3] ?? ''
  return unit === '' ? { name: header, unit: '' } : { name: found![1] || header, unit }
}

/** A force is turned into newtons; any other unit stays as it is written. */
function scaleOf(unit: string): { unit: string; per: number; forceUnit: ForceUnit | null } {
  const force = parseForceUnit(unit)
  if (force === null || force === 'counts') return { unit, per: 1, forceUnit: null }
  return { unit: 'N', per: N_PER[force], forceUnit: force }
}

function chooseColumns(
  table: Table,
  asked: TableColumns,
): Outcome<{ group: number; value: number; block: number }> {
  const group = asked.group === undefined ? groupColumn(table) : columnAt(table, asked.group)
  const value =
    asked.value === undefined
      ? valueColumn(table, group.ok ? group.value : -1, asked)
      : columnAt(table, asked.value)
  const block = asked.block === undefined ? fine(-1) : columnAt(table, asked.block)
  const problems = [group, value, block].flatMap(found => (found.ok ? [] : found.problems))
  if (!group.ok || !value.ok || !block.ok) return { ok: false, problems }
  return fine({ group: group.value, value: value.value, block: block.value })
}

const isText = (table: Table, c: number): boolean =>
  table.rows.some(row => cellValue(table, row.cells[c]!) === 'text')

function groupColumn(table: Table): Outcome<number> {
  const usual = columnCalled(table, USUAL.group)
  if (usual >= 0) return fine(usual)
  const taken = Object.values(USUAL).flat() as string[]
  const texts = table.names.flatMap((name, c) =>
    isText(table, c) && !taken.includes(folded(name)) ? [c] : [],
  )
  return texts.length === 1 ? fine(texts[0]!) : wrong(cannotChoose(table, 'groups', '--group'))
}

function valueColumn(table: Table, group: number, { block }: TableColumns): Outcome<number> {
  const taken = Object.values(USUAL).flat() as string[]
  const numbers = table.names.flatMap((name, c) => {
    if (
      c === group ||
      taken.includes(folded(name)) ||
      (block !== undefined && folded(name) === folded(block))
    )
      return []
    const values = table.rows.map(row => cellValue(table, row.cells[c]!))
    // One bad cell among numbers is a mistake to be told, not another kind of column.
    const numeric = values.filter(v => v !== 'text' && v !== null).length
    return numeric * 2 > values.length ? [c] : []
  })
  return numbers.length === 1 ? fine(numbers[0]!) : wrong(cannotChoose(table, 'values', '--value'))
}

const cannotChoose = (table: Table, what: string, option: string): Problem => ({
  where: table.name,
  what: `it is not clear which column holds the ${what}.`,
  cure: `Say so with ${option}; the columns are ${columnList(table)}.`,
})
