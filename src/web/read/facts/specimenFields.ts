import type { Specimen, SpecimenPatch } from '../../../server/apiTypes.ts'
import { typedNumber } from '../../parts/typed.ts'

/** The fields of a specimen that are typed, and what may stand in them. */
export const TEXT_FIELDS = ['operator', 'batch'] as const
export const NUMBER_FIELDS = {
  widthMm: { least: 0, isOpen: true },
  thicknessMm: { least: 0, isOpen: true },
  lengthMm: { least: 0, isOpen: true },
  elements: { least: 1, most: 100_000, isWhole: true },
  temperatureC: { least: -273.15, most: 1000 },
  humidityPct: { least: 0, most: 100 },
} as const

export type NumberField = keyof typeof NUMBER_FIELDS

interface Limits {
  readonly least: number
  readonly most?: number
  /** The least itself may not stand. */
  readonly isOpen?: boolean
  readonly isWhole?: boolean
}

/** What a typed figure comes to: a change, nothing new, or no figure that can stand there. Empty is not known. */
export function typedFigure(
  specimen: Specimen,
  field: NumberField,
  text: string,
): { readonly kind: 'same' | 'wrong' } | { readonly kind: 'changed'; readonly patch: SpecimenPatch } {
  const value = text.trim() === '' ? null : typedNumber(text)
  if (text.trim() !== '' && (value === null || !fits(value, NUMBER_FIELDS[field]))) return { kind: 'wrong' }
  return value === specimen[field] ? { kind: 'same' } : { kind: 'changed', patch: { [field]: value } }
}

const fits = (value: number, { least, most, isOpen, isWhole }: Limits): boolean =>
  (isOpen ? value > least : value >= least) &&
  (most === undefined || value <= most) &&
  (!isWhole || Number.isInteger(value))
