import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { TypedPeak } from '../../core/reading/typedReading.ts'
import { isDay } from '../../core/study.ts'
import { type ForceUnit, parseForceUnit } from '../../core/units/force.ts'
import type { Specimen, SpecimenEdit, SpecimenPatch, Variant } from '../../server/apiTypes.ts'
import { typedNumber } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'

const t = texts.specimens

/** The columns of the table, in the order in which a spreadsheet's cells are laid into it. */
export const COLUMNS = [
  'name',
  'variant',
  'peak',
  'step',
  'doubt',
  'mode',
  'elements',
  'width',
  'thickness',
  'length',
  'operator',
  'batch',
  'day',
  'order',
  'note',
] as const
export type Column = (typeof COLUMNS)[number]

const NUMBERS = { width: 'widthMm', thickness: 'thicknessMm', length: 'lengthMm' } as const
const WHOLE = { elements: 'elements', order: 'pullOrder' } as const
const WORDS = { operator: 'operator', batch: 'batch', note: 'note' } as const

/** What is known around the cells. */
export interface Around {
  readonly variants: readonly Variant[]
  /** Specimens with a recording: their curve says what the peak is. */
  readonly recorded: ReadonlySet<string>
  /** Unit in which a peak is typed where the specimen has none yet. */
  readonly unit: ForceUnit
  readonly who: string
}

/** A cell as it is typed: what stands in it now. */
export function cellText(specimen: Specimen, column: Column, { variants, unit }: Around): string {
  const { typedPeak } = specimen
  const figure = (value: number | null | undefined): string => (value == null ? '' : String(value))
  switch (column) {
    case 'name':
      return specimen.name
    case 'variant':
      return variants.find(({ id }) => id === specimen.variantId)?.name ?? ''
    case 'mode':
      return specimen.failureMode ?? ''
    case 'day':
      return specimen.pulledOn ?? ''
    case 'peak':
      return typedPeak === null
        ? ''
        : `${typedPeak.isAtLeast ? '>' : ''}${typedPeak.value}${typedPeak.unit === unit ? '' : ` ${typedPeak.unit}`}`
    case 'step':
    case 'doubt':
      return figure(typedPeak?.[column])
    case 'elements':
    case 'order':
      return figure(specimen[WHOLE[column]])
    case 'operator':
    case 'batch':
    case 'note':
      return specimen[WORDS[column]]
    default:
      return figure(specimen[NUMBERS[column]])
  }
}

/** Whether a cell takes anything: the peak of a recorded specimen is what its curve says. */
export const isOpen = (specimenId: string | null, column: Column, { recorded }: Around): boolean =>
  !['peak', 'step', 'doubt'].includes(column) || specimenId === null || !recorded.has(specimenId)

/** Cells of one row that are to be other than they are. `specimen`: `null` for one that is to be made. */
export interface RowChange {
  readonly specimen: Specimen | null
  readonly cells: Partial<Record<Column, string>>
}

/** Cells as the steps of one edit. Problems, all at once: what cannot stand in its cell; nothing is changed then. */
export function stepsOf(changes: readonly RowChange[], around: Around): Outcome<SpecimenEdit[]> {
  const problems: Problem[] = []
  const steps = changes.flatMap(change => stepsOfRow(change, around, problems))
  return problems.length > 0 ? wrong(...problems) : fine(steps)
}

function stepsOfRow({ specimen, cells }: RowChange, around: Around, problems: Problem[]): SpecimenEdit[] {
  const name = (cells.name ?? specimen?.name ?? '').trim()
  const given = (column: Column): string | undefined => cells[column]?.trim()
  const fault = (column: Column, what: string, cure: string): void => {
    problems.push({ where: t.cellOf(name === '' ? t.newRow : name, t.columns[column]), what, cure })
  }
  if (name === '') {
    fault('name', t.nameMissing, t.giveName)
    return []
  }
  const fields: { -readonly [K in keyof SpecimenPatch]: SpecimenPatch[K] } = {}
  for (const column of Object.keys(cells) as Column[])
    if (
      given(column) !== cellTextOr(specimen, column, around) &&
      !isOpen(specimen?.id ?? null, column, around)
    )
      fault(column, t.peakOfCurve, t.typeElsewhere)
  const numberIn = (column: Column, isWhole = false): number | null | undefined => {
    const text = given(column)
    if (text === undefined) return undefined
    if (text === '') return null
    const value = typedNumber(text)
    if (value !== null && value > 0 && (!isWhole || Number.isInteger(value))) return value
    fault(column, isWhole ? t.notWhole(text) : t.notNumber(text), t.mendCell)
    return undefined
  }
  for (const [column, field] of Object.entries(NUMBERS) as [keyof typeof NUMBERS, 'widthMm'][]) {
    const value = numberIn(column)
    if (value !== undefined) fields[field] = value
  }
  for (const [column, field] of Object.entries(WHOLE) as [keyof typeof WHOLE, 'elements'][]) {
    const value = numberIn(column, true)
    if (value !== undefined) fields[field] = value
  }
  for (const [column, field] of Object.entries(WORDS) as [keyof typeof WORDS, 'note'][]) {
    const text = given(column)
    if (text !== undefined) fields[field] = text
  }
  const mode = given('mode')
  if (mode !== undefined) fields.failureMode = mode === '' ? null : mode
  const day = given('day')
  if (day !== undefined && day !== '' && !isDay(day)) fault('day', t.notDay(day), t.dayAs)
  else if (day !== undefined) fields.pulledOn = day === '' ? null : day
  if (given('peak') !== undefined || given('step') !== undefined || given('doubt') !== undefined) {
    const peak = typedPeakIn(specimen, { given, numberIn, fault }, around)
    if (peak !== undefined) fields.typedPeak = peak
    if (peak && specimen?.status === 'planned') fields.status = 'pulled'
  }
  const variant = given('variant')
  const toVariant = variant === undefined || variant === '' ? null : variant
  if (specimen === null) {
    const status = fields.typedPeak ? 'pulled' : 'planned'
    return [{ kind: 'add', name, variant: toVariant, fields: { ...defined(fields), status } }]
  }
  if (given('name') !== undefined && name !== specimen.name) fields.name = name
  const isSame = (field: string) =>
    JSON.stringify(fields[field as keyof SpecimenPatch]) === JSON.stringify(specimen[field as keyof Specimen])
  for (const field of Object.keys(fields)) if (isSame(field)) delete fields[field as keyof SpecimenPatch]
  return [
    ...(Object.keys(fields).length > 0
      ? [{ kind: 'change', specimenId: specimen.id, fields: defined(fields) } as const]
      : []),
    ...(variant !== undefined && variant !== cellText(specimen, 'variant', around)
      ? [{ kind: 'to-variant', specimenId: specimen.id, variant: toVariant } as const]
      : []),
  ]
}

const cellTextOr = (specimen: Specimen | null, column: Column, around: Around): string =>
  specimen === null ? '' : cellText(specimen, column, around)

/** `68.2`, `>68.2` for at least so much, `6.9 kgf` in a unit of its own. `undefined` where it cannot stand. */
function typedPeakIn(
  specimen: Specimen | null,
  {
    given,
    numberIn,
    fault,
  }: {
    given(column: Column): string | undefined
    numberIn(column: Column): number | null | undefined
    fault(column: Column, what: string, cure: string): void
  },
  { unit, who }: Around,
): TypedPeak | null | undefined {
  const was = specimen?.typedPeak ?? null
  const text = given('peak')
  const [step, doubt] = [numberIn('step'), numberIn('doubt')]
  const scale = {
    step: step === undefined ? (was?.step ?? null) : step,
    doubt: doubt === undefined ? (was?.doubt ?? null) : doubt,
  }
  if (text === '') return null
  if (text === undefined) {
    if (was !== null) return { ...was, ...scale }
    if (scale.step === null && scale.doubt === null) return undefined
    fault('peak', t.peakFirst, t.giveName)
    return undefined
  }
  const said = /^([>≥]=?)?\s*([^\s]+)(?:\s+(\S+))?$/.exec(text)
  const value = typedNumber(said?.[2] ?? '')
  const inUnit = said?.[3] === undefined ? (was?.unit ?? unit) : parsedUnit(said[3])
  if (value === null || value <= 0 || inUnit === null) {
    fault('peak', t.notPeak(text), t.peakAs)
    return undefined
  }
  return { value, unit: inUnit, isAtLeast: said?.[1] !== undefined, ...scale, who }
}

const parsedUnit = (text: string): ForceUnit | null => {
  const unit = parseForceUnit(text)
  return unit === 'counts' ? null : unit
}

/** What was given of a patch: a field that is `undefined` was not. */
const defined = (fields: SpecimenPatch): Defined =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Defined
type Defined = { [K in keyof SpecimenPatch]: Exclude<SpecimenPatch[K], undefined> }

/**
 * A block of cells laid into the table. Under a first row that names columns each cell goes to its column, each row to the
 * specimen of its name. Else from one cell on, to the right and down. Rows beyond the last one are of the specimen of their
 * name, or make a new one.
 */
export function laidIn(
  block: readonly (readonly string[])[],
  specimens: readonly Specimen[],
  from: { readonly row: number; readonly column: Column },
): RowChange[] {
  const headed = headerOf(block[0] ?? [])
  const columns: readonly (Heading | null)[] =
    headed ?? COLUMNS.slice(COLUMNS.indexOf(from.column)).map(column => ({ column, unit: '' }))
  const ofPeak = columns.find(heading => heading?.column === 'peak')?.unit ?? ''
  return (headed ? block.slice(1) : block).map((row, i) => {
    const cells: Partial<Record<Column, string>> = {}
    for (const [j, text] of row.entries()) {
      const heading = columns[j]
      if (!heading) continue
      // Step and doubt are in the unit of their peak; one in another unit is refused as no number.
      const isOther = heading.column === 'peak' ? heading.unit !== '' : heading.unit !== ofPeak
      const unit = FORCES.includes(heading.column) && text !== '' && isOther ? ` ${heading.unit}` : ''
      cells[heading.column] = text + unit
    }
    const at = headed ? undefined : specimens[from.row + i]
    return { specimen: at ?? specimens.find(({ name }) => name === cells.name) ?? null, cells }
  })
}

/** Those that are forces: a peak and what belongs to it. */
export const FORCES: readonly Column[] = ['peak', 'step', 'doubt']

interface Heading {
  readonly column: Column
  /** As a heading tells it, `Peak, kgf`; `''` where it tells none. */
  readonly unit: string
}

/** The columns that a row names; `null` where it is a row like the others. */
function headerOf(row: readonly string[]): (Heading | null)[] | null {
  const headings = row.map(text => {
    const [word = '', unit = ''] = text.split(',').map(part => part.trim())
    const column = COLUMNS.find(one =>
      [one, bareName(one)].some(name => name.toLowerCase() === word.toLowerCase()),
    )
    return column === undefined ? null : { column, unit }
  })
  const isHeader = headings.every((heading, i) => heading !== null || row[i] === '')
  return isHeader && headings.some(heading => heading?.column === 'name') ? headings : null
}

const bareName = (column: Column): string => t.columns[column].replace(/,.*/, '')
