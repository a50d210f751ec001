import { fine, type Outcome, type Problem, wrong } from '../../problem.ts'
import type { Specimen } from './specimen.ts'

export interface Dimensions {
  readonly widthMm: number | null
  readonly thicknessMm: number | null
  /** Of the bond, the overlap or the free length. */
  readonly lengthMm: number | null
}

/** What a force is divided by, and what comes of it. */
export const PER = {
  width: { of: ['widthMm'], unit: 'N/mm' },
  length: { of: ['lengthMm'], unit: 'N/mm' },
  area: { of: ['widthMm', 'thicknessMm'], unit: 'MPa' },
  'bond-area': { of: ['widthMm', 'lengthMm'], unit: 'MPa' },
} as const

export type Per = keyof typeof PER

const NAMES = { widthMm: 'width_mm', thicknessMm: 'thickness_mm', lengthMm: 'length_mm' } as const
const Z95 = 1.959_963_984_540_054

/**
 * Forces per width or bond length (N/mm), or per area (N/mm² = MPa). The doubt of the value is carried with it; that of
 * each dimension (`doubtMm`, half-width of a 95 % interval, `null` where unknown) is added as a part of its own, relative
 * doubts in quadrature (GUM, JCGM 100:2008, 5.1.6). Problems: a specimen without the dimension, all named at once.
 */
export function perDimension(
  specimens: readonly Specimen[],
  dimensionsOf: (specimen: Specimen) => Dimensions | null,
  { per, doubtMm }: { per: Per; doubtMm: number | null },
): Outcome<{ specimens: Specimen[]; unit: string }> {
  const problems: Problem[] = []
  const divided = specimens.map(specimen => {
    const known = dimensionsOf(specimen)
    const lengths = PER[per].of.map(name => known?.[name] ?? null)
    const missing = PER[per].of.filter((_, i) => lengths[i] === null)
    if (missing.length > 0) {
      problems.push({
        where: specimen.name,
        what: `its ${missing.map(name => NAMES[name]).join(' and ')} is not known, so no force per ${per} can be had.`,
        cure: 'Add the column to the table of specimens, or compare the force itself.',
      })
      return specimen
    }
    const by = lengths.reduce((product: number, mm) => product * mm!, 1)
    const relative = doubtMm === null ? 0 : Math.hypot(...lengths.map(mm => doubtMm / Z95 / mm!))
    return dividedBy(specimen, by, relative)
  })
  return problems.length > 0 ? wrong(...problems) : fine({ specimens: divided, unit: PER[per].unit })
}

function dividedBy(specimen: Specimen, by: number, relative: number): Specimen {
  if (specimen.value === null) return specimen
  const value = specimen.value / by
  const added = Math.abs(value) * relative
  const end = (given: number | null): number | null => {
    if (given === null) return relative > 0 ? value : null
    return given / by
  }
  const widened = (given: number | null, side: 1 | -1): number | null => {
    const plain = end(given)
    return plain === null ? null : value + side * Math.hypot(plain - value, Z95 * added)
  }
  return {
    ...specimen,
    value,
    low: widened(specimen.low, -1),
    high: widened(specimen.high, 1),
    parts: [
      ...specimen.parts.map(part => ({ ...part, standard: part.standard / by })),
      ...(added > 0 ? [{ source: 'dimensions', standard: added, shared: 'none' as const }] : []),
    ],
  }
}
