import { fine, type Outcome } from '../../core/problem.ts'
import type { Adjustment } from '../../core/reading/adjustmentDocument.ts'
import type { Reading } from '../../core/reading/document.ts'
import { readRecording } from '../../core/reading/readRecording.ts'
import type { Recording } from '../../core/recording.ts'
import type { SpecimenFields } from '../../core/study.ts'
import { ownScaleOf } from '../../core/units/force.ts'
import { type RecordedParts, type SpecimenRecording, specimenRecording } from './specimenRecording.ts'

export type SpecimenFacts = NonNullable<Reading['specimen']>

/** All that the reading of a specimen comes from. */
export interface SpecimenParts extends RecordedParts {
  /** What is said of the specimen; `null` where nothing is. */
  readonly facts: SpecimenFacts | null
  /** What a person changed, in the order of replay. */
  readonly adjustments: readonly Adjustment[]
}

export interface SpecimenRead {
  readonly recording: Recording
  /** With what the rig has to warn of. */
  readonly reading: Reading
  /** What the reading was told beside facts, rig and adjustments: kept with it. */
  readonly options: object
}

/**
 * The reading of a specimen: the one way from its recordings to what they are taken to mean, for every door of the
 * program. Problems as from `specimenRecording`.
 */
export function readSpecimen({ facts, adjustments, ...recorded }: SpecimenParts): Outcome<SpecimenRead> {
  const one = specimenRecording(recorded)
  if (!one.ok) return one
  const { recording } = one.value
  return fine({ recording, ...readJoined(one.value, facts, adjustments) })
}

/** The second half of `readSpecimen`, for a caller that tries several adjustments on one recording. */
export function readJoined(
  { recording, scale, rigWarnings, known, limits }: SpecimenRecording,
  facts: SpecimenFacts | null,
  adjustments: readonly Adjustment[],
): Omit<SpecimenRead, 'recording'> {
  const elements = facts?.elements ?? null
  const reading = readRecording(recording, {
    elements,
    specimen: facts,
    scale,
    known,
    adjustments,
    ...limits,
  })
  return {
    reading: onOwnScale({ ...reading, warnings: [...reading.warnings, ...rigWarnings] }),
    options: { elements, ...limits },
  }
}

/** Numbers that are no force yet make no work in joule and no stiffness in newton a millimetre. */
const onOwnScale = (reading: Reading): Reading => {
  if (ownScaleOf(reading.recording.forceUnit) === null) return reading
  return { ...reading, results: { ...reading.results, work: null, stiffness: null } }
}

/** What the plan, the variant and the specimen itself say of it. */
export const factsOf = (
  specimen: Pick<
    SpecimenFields,
    'name' | 'elements' | 'widthMm' | 'thicknessMm' | 'lengthMm' | 'failureMode' | 'note'
  >,
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

/** Facts of a specimen of which no more is said than this; `null` where nothing is. */
export function fewFacts(said: Partial<SpecimenFacts>): SpecimenFacts | null {
  if (Object.values(said).every(value => value === null || value === undefined)) return null
  return {
    name: null,
    variant: null,
    elements: null,
    widthMm: null,
    thicknessMm: null,
    lengthMm: null,
    mode: null,
    note: null,
    ...said,
  }
}
