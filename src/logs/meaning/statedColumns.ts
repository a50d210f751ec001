import type { HeaderLine } from '../lines/headerLine.ts'
import { commentText } from '../lines/split.ts'
import type { Column, SampleTable } from '../table/sampleTable.ts'
import { headerMeaning } from '../words/header.ts'
import { multipleForceUnitOf, unitMeaning } from '../words/units.ts'
import type { TableContext } from './tableContext.ts'

/** What lines above the samples say of a column. */
interface StatedColumn {
  readonly name: string
  readonly unit: string
  /** What a number of the column is to be multiplied by. */
  readonly factor: number
  /** Lines that state it, the one with its name first. */
  readonly lines: readonly number[]
}

/**
 * `Sig4 Static Force (N)`, `Channel 2: Load [kN]`, `3;Kraft;N;0.1`: the number of a column, and what it
 * holds.
 */
const NUMBERED =
  /^\W*(?:(?:sig|signal|ch|chan|channel|kanal|col|column|spalte|canal|colonne|columna|voie|sensor|var|track|trace|y|チャンネル|通道|канал)[\s._#-]*)?(\d{1,2})\s*(?:[:=.)\]\t;,|-]|\s)\s*(\S.*)$/iu

/** `Names;Time;Force`, `Y_Unit_Label  N  N`: what the cells behind it are. */
const ROW_OF_NAMES =
  /^(?:names?|channels?(?: ?names?)?|signals?|labels?|kan[aä]le?|columns?|spalten?|canales?)$/i
const ROW_OF_UNITS = /^(?:units?|y_unit_labels?|einheit(?:en)?|unit[ée]s?|unidad(?:es)?|单位|単位)$/i
const ROW_OF_FACTORS = /^(?:scales?|scale ?factors?|factors?|faktor(?:en)?|gains?|multipliers?)$/i

/**
 * Gives columns without telling names the names, units and factors that lines above the samples state; the
 * first of these lines, or `null`.
 */
export function nameColumns(table: SampleTable, { layout, texts }: TableContext): number | null {
  if (layout.kind !== 'cells') return null
  const { header, firstLine } = layout
  const above = texts.filter(({ line }) => line < firstLine)
  const last = table.columns.findLastIndex(({ form }) => form !== 'unit' && form !== 'text')
  const columns = table.columns.slice(0, last + 1).filter(({ form }) => form !== 'unit')
  const stated = numbered(above, columns.length) ?? inRows(above, columns.length)
  if (stated === null) return null
  // A line of such a list may have passed for a header.
  const isOwnLine = header !== null && stated.some(one => one?.lines.includes(header.line))
  if (header !== null && !isOwnLine && isTelling(header)) return null
  for (const [c, one] of stated.entries()) {
    const column = columns[c]
    if (!column || !one) continue
    column.name = one.name
    column.unitRow = one.unit
    scale(column, one.factor, table.rows)
  }
  return stated.find(one => one !== null)?.lines[0] ?? null
}

const isTelling = ({ names, units }: HeaderLine): boolean =>
  names.some((name, c) => {
    const { role } = headerMeaning(name, units[c])
    return role === 'force' || role === 'time'
  })

function scale(column: Column, factor: number, rows: number): void {
  if (factor === 1) return
  for (let i = 0; i < rows && i < column.values.length; i++) column.values[i]! *= factor
}

function numbered(
  texts: readonly { line: number; text: string }[],
  width: number,
): (StatedColumn | null)[] | null {
  let best: (StatedColumn | null)[] | null = null
  let run: { number: number; stated: StatedColumn }[] = []
  const end = (): void => {
    const first = run[0]?.number
    if (run.length >= 2 && run.length <= width && (first === 0 || first === 1)) {
      const columns: (StatedColumn | null)[] = Array.from({ length: width }, () => null)
      for (const { number, stated } of run) columns[number - first] = stated
      const names = run.map(({ stated }) => headerMeaning(stated.name, stated.unit).role)
      if (names.includes('force') || names.includes('time')) best ??= columns
    }
    run = []
  }
  for (const { line, text } of texts) {
    const found = NUMBERED.exec(text)
    const number = found ? Number(found[1]) : Number.NaN
    const stated = found ? statedColumn(found[2] ?? '', line) : null
    if (!stated || (run.length > 0 && number !== run.at(-1)!.number + 1)) end()
    if (stated) run.push({ number, stated })
  }
  end()
  return best
}

/** `Kraft;N;0.1`, `Static Force (N)`: a name with letters, then perhaps a unit and a factor. */
function statedColumn(text: string, line: number): StatedColumn | null {
  const cells = text
    .split(/\s*[;\t|]\s*|\s*,\s+|,(?=\S)|\s{2,}/)
    .map(cell => cell.replace(/^"|"$/g, '').trim())
  const [name = '', ...rest] = cells
  if (!/\p{L}/u.test(name) || name.length > 80) return null
  const unit = rest.find(cell => /\p{L}|%/u.test(cell) && unitMeaning(cell) !== null) ?? ''
  const numbers = rest.filter(cell => /^[+-]?\d*[.,]?\d+(?:e[+-]?\d+)?$/i.test(cell)).map(toNumber)
  // One number may be a factor; of several, offset or range among them, none can be told.
  const factor = unit !== '' && numbers.length === 1 && numbers[0]! > 0 ? numbers[0]! : 1
  return { name, unit, factor, lines: [line] }
}

const toNumber = (cell: string): number => Number(cell.replace(',', '.'))

function inRows(
  texts: readonly { line: number; text: string }[],
  width: number,
): (StatedColumn | null)[] | null {
  let names: { readonly cells: readonly string[]; readonly line: number } | null = null
  let units: readonly string[] = []
  let unitsLine = 0
  let factors: readonly string[] = []
  for (const { line, text } of texts) {
    const [lead = '', ...cells] = cellsBehindLead(text)
    if (cells.length < Math.max(1, width - 1) || cells.length > width + 1) continue
    if (ROW_OF_NAMES.test(lead)) names = { cells, line }
    else if (ROW_OF_UNITS.test(lead)) {
      units = cells
      unitsLine = line
    } else if (ROW_OF_FACTORS.test(lead)) factors = cells
  }
  const namesTell = names?.cells.some(name => /\p{L}{2,}/u.test(name)) === true
  if (!namesTell && !units.some(unit => multipleForceUnitOf(unit) !== null)) return null
  const { cells, line } = namesTell && names !== null ? names : { cells: units, line: unitsLine }
  // Rows of one cell fewer leave the time out, which stands first.
  const shift = Math.max(0, width - cells.filter(cell => cell !== '').length)
  return Array.from({ length: width }, (_, c) => {
    const name = cells[c - shift] ?? ''
    if (name === '') return null
    const factor = toNumber(factors[c - shift] ?? '1')
    return {
      name,
      unit: units[c - shift] ?? '',
      factor: factor > 0 ? factor : 1,
      lines: [line, unitsLine],
    }
  })
}

/** `Units: s, mm, N` → what leads the line, then its cells; blanks part them where nothing else does. */
function cellsBehindLead(text: string): string[] {
  const bare = commentText(text) ?? text
  const led = /^"?([\p{L} _]+?)"?\s*[:=]\s*(?=\S)/u.exec(bare)
  const rest = led ? bare.slice(led[0].length) : bare
  const cells = rest.split(/[;\t|,]/.test(rest) ? /[;\t|]|,\s*/ : /\s+/)
  return [...(led ? [led[1] ?? ''] : []), ...cells].map(cell =>
    cell.replace(/^"|"$/g, '').replace(/[:=]$/, '').trim(),
  )
}
