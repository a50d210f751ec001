import type { Rig } from '../../../core/calibration/rig.ts'
import { gravityOf } from '../../../core/calibration/rigFacts.ts'
import { threeDigits } from '../../../core/units/showForce.ts'

/** The links between drive and computer, in their order, and the place that all of it stands at. */
export const LINKS = ['drive', 'specimen', 'frame', 'cell', 'converter', 'line', 'place'] as const
export type Link = (typeof LINKS)[number]

/** A figure of a rig document that a form asks for. */
export interface FigureField {
  /** Where it stands in the document. */
  readonly path: readonly [string] | readonly [string, string]
  readonly unit: string
  readonly kind: 'above-0' | 'whole' | 'latitude' | 'height'
}

export const FIGURES = {
  mmPerTurn: { path: ['drive', 'mmPerTurn'], unit: 'mm', kind: 'above-0' },
  mmPerSecond: { path: ['drive', 'mmPerSecond'], unit: 'mm/s', kind: 'above-0' },
  strokeMm: { path: ['strokeMm'], unit: 'mm', kind: 'above-0' },
  capacityN: { path: ['cell', 'capacityN'], unit: 'N', kind: 'above-0' },
  ratedOutputMvPerV: { path: ['cell', 'ratedOutputMvPerV'], unit: 'mV/V', kind: 'above-0' },
  rateHz: { path: ['converter', 'rateHz'], unit: 'readings a second', kind: 'above-0' },
  averagedReadings: { path: ['converter', 'averagedReadings'], unit: '', kind: 'whole' },
  excitationV: { path: ['converter', 'excitationV'], unit: 'V', kind: 'above-0' },
  latitudeDeg: { path: ['gravity', 'latitudeDeg'], unit: '°', kind: 'latitude' },
  heightM: { path: ['gravity', 'heightM'], unit: 'm', kind: 'height' },
} as const satisfies Record<string, FigureField>
export type Figure = keyof typeof FIGURES

/** What each link's form asks for. */
export const FIGURES_OF: Readonly<Record<Link, readonly Figure[]>> = {
  drive: ['mmPerTurn', 'mmPerSecond', 'strokeMm'],
  specimen: [],
  frame: [],
  cell: ['capacityN', 'ratedOutputMvPerV'],
  converter: ['rateHz', 'averagedReadings', 'excitationV'],
  line: [],
  place: ['latitudeDeg', 'heightM'],
}

/** What is known of a link in a few words, in their order; none: it asks. */
export function knownOf(rig: Rig, link: Link): string[] {
  const { cell, converter, drive, stiffness, strokeMm } = rig
  const told = (value: number | undefined, unit: string): string[] =>
    value === undefined ? [] : [`${threeDigits(value)} ${unit}`.trim()]
  switch (link) {
    case 'drive':
      return [
        ...told(drive.mmPerTurn, 'mm a turn'),
        ...told(drive.mmPerSecond, 'mm/s'),
        ...told(strokeMm, 'mm of stroke'),
      ]
    case 'specimen':
      return []
    case 'frame':
      return told(stiffness?.nPerMm, 'N/mm')
    case 'cell':
      return [...told(cell.capacityN, 'N'), ...told(cell.ratedOutputMvPerV, 'mV/V')]
    case 'converter':
      return [
        ...told(converter.rateHz, 'a second'),
        ...(converter.name === undefined ? [] : [converter.name]),
      ]
    case 'line':
      return []
    case 'place':
      return rig.gravity === undefined ? [] : [`${gravityOf(rig).ms2.toFixed(4)} m/s²`]
  }
}

/** A raw rig document with one figure set, or taken out; groups that are left empty go with it. */
export function withFigure(document: unknown, figure: Figure, value: number | null): Record<string, unknown> {
  const raw = fieldsOf(document)
  const [group, key] = FIGURES[figure].path as readonly [string, string | undefined]
  if (key === undefined) return without({ ...raw, [group]: value }, value === null ? group : null)
  const inner = without({ ...groupOf(raw, group), [key]: value }, value === null ? key : null)
  return without({ ...raw, [group]: inner }, Object.keys(inner).length === 0 ? group : null)
}

/** A gravity that was typed is no place: a latitude takes its stead. A height alone says nothing. */
function groupOf(raw: Readonly<Record<string, unknown>>, group: string): Record<string, unknown> {
  const inner = fieldsOf(raw[group])
  return group === 'gravity' && 'ms2' in inner ? {} : inner
}

const without = (fields: Record<string, unknown>, key: string | null): Record<string, unknown> =>
  Object.fromEntries(Object.entries(fields).filter(([name]) => name !== key))

const fieldsOf = (value: unknown): Record<string, unknown> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}

/** What stands in a raw document; `null` where nothing does. */
export function figureIn(document: unknown, figure: Figure): number | null {
  const [group, key] = FIGURES[figure].path as readonly [string, string | undefined]
  const value = key === undefined ? fieldsOf(document)[group] : fieldsOf(fieldsOf(document)[group])[key]
  return typeof value === 'number' ? value : null
}
