import { quotedCell, safeCell } from '../../logs/write/safeCell.ts'
import type { PublishedSpecimen } from '../study/study.ts'

/** A field of a table as Table Schema describes it; `unit` is ours, which the standard allows. */
export interface TableField {
  readonly name: string
  readonly type: 'string' | 'number' | 'integer'
  readonly description?: string
  readonly unit?: string
}

type Cell = string | number | null

const COLUMNS: readonly (TableField & { readonly of: (specimen: PublishedSpecimen) => Cell })[] = [
  { name: 'specimen', type: 'string', of: s => s.name },
  { name: 'variant', type: 'string', of: s => s.variant },
  {
    name: 'status',
    type: 'string',
    description: 'planned, pulled, or left-out: in sight but not in the figures',
    of: s => s.status,
  },
  { name: 'status_reason', type: 'string', of: s => s.statusReason },
  { name: 'mode', type: 'string', description: 'How it failed', of: s => s.failureMode },
  {
    name: 'peak_status',
    type: 'string',
    description: 'measured, at-least, not-recorded or not-reached',
    of: s => s.reading?.results.peakForce.status ?? null,
  },
  {
    name: 'peak_force_n',
    type: 'number',
    unit: 'N',
    description: 'Peak force less the true zero',
    of: s => s.reading?.results.peakForce.valueN ?? null,
  },
  {
    name: 'peak_uncertainty_n',
    type: 'number',
    unit: 'N',
    description: 'Half-width of its 95 % interval',
    of: s => s.reading?.results.peakForce.uncertaintyN ?? null,
  },
  {
    name: 'peak_low_n',
    type: 'number',
    unit: 'N',
    description: 'Lower end of its 95 % interval where that is lopsided',
    of: s => s.reading?.results.peakForce.lowN ?? null,
  },
  {
    name: 'peak_high_n',
    type: 'number',
    unit: 'N',
    description: 'Upper end of its 95 % interval where that is lopsided',
    of: s => s.reading?.results.peakForce.highN ?? null,
  },
  {
    name: 'partial_breaks',
    type: 'integer',
    of: s => s.reading?.results.partialBreaks ?? null,
  },
  { name: 'elements', type: 'integer', description: 'Equal elements side by side', of: s => s.elements },
  { name: 'width_mm', type: 'number', unit: 'mm', of: s => s.widthMm },
  { name: 'thickness_mm', type: 'number', unit: 'mm', of: s => s.thicknessMm },
  { name: 'length_mm', type: 'number', unit: 'mm', of: s => s.lengthMm },
  { name: 'temperature_c', type: 'number', unit: '°C', of: s => s.temperatureC },
  { name: 'humidity_pct', type: 'number', unit: '%', of: s => s.humidityPct },
  { name: 'operator', type: 'string', of: s => s.operator },
  { name: 'batch', type: 'string', of: s => s.batch },
  { name: 'pulled_at', type: 'string', description: 'Date or moment, ISO 8601', of: s => s.pulledAt },
  { name: 'logs', type: 'string', of: s => s.logs.map(log => log.name).join(' | ') },
  { name: 'note', type: 'string', of: s => s.note },
]

export const specimensFields = (): TableField[] => COLUMNS.map(({ of: _, ...field }) => field)

/** A row for each specimen, with the figures that people look for first. Texts are safe in a spreadsheet. */
export function specimensTable(specimens: readonly PublishedSpecimen[]): string {
  const rows = specimens.map(specimen => COLUMNS.map(({ of }) => cellText(of(specimen))).join(','))
  return `${[COLUMNS.map(({ name }) => name).join(','), ...rows].join('\n')}\n`
}

function cellText(cell: Cell): string {
  if (cell === null) return ''
  // One row stays one line; study.json has the text as it was written.
  return typeof cell === 'number'
    ? String(cell)
    : quotedCell(safeCell(cell.replace(/\s*[\r\n]+\s*/g, ' ')), ',')
}
