import type { Adjustment } from '../../core/reading/adjustmentDocument.ts'
import type { Reading } from '../../core/reading/document.ts'
import { readRecording } from '../../core/reading/readRecording.ts'
import type { SpecimenRecording } from './specimenRecording.ts'

type SpecimenFacts = NonNullable<Reading['specimen']>

/** A specimen as a study keeps it, as far as its reading asks. */
interface KeptSpecimen {
  readonly name: string
  readonly elements: number | null
  readonly widthMm: number | null
  readonly thicknessMm: number | null
  readonly lengthMm: number | null
  readonly failureMode: string | null
  readonly note: string
}

/** What the plan, the variant and the specimen itself say of it. */
export const factsOf = (
  specimen: KeptSpecimen,
  variant: { readonly name: string; readonly elements: number | null } | null,
  study: { readonly elements: number | null } | null,
): SpecimenFacts => ({
  name: specimen.name,
  variant: variant?.name ?? null,
  elements: specimen.elements ?? variant?.elements ?? study?.elements ?? null,
  widthMm: specimen.widthMm,
  thicknessMm: specimen.thicknessMm,
  lengthMm: specimen.lengthMm,
  mode: specimen.failureMode,
  note: specimen.note === '' ? null : specimen.note,
})

/** The reading of a specimen with these adjustments, and the options that it was made with. */
export function readSpecimen(
  { recording, scale, rigWarnings, limits }: SpecimenRecording,
  facts: SpecimenFacts,
  adjustments: readonly Adjustment[],
): { reading: Reading; options: object } {
  const reading = readRecording(recording, {
    elements: facts.elements,
    specimen: facts,
    scale,
    adjustments,
    ...limits,
  })
  return {
    reading: { ...reading, warnings: [...reading.warnings, ...rigWarnings] },
    options: { elements: facts.elements, ...limits },
  }
}
