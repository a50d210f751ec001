import type { Reading } from '../../core/reading/document.ts'
import type { Specimen } from '../../server/apiTypes.ts'

/** What there is to know of a specimen's screen to say what to do now. */
export interface Situation {
  readonly specimen: Pick<Specimen, 'name' | 'status' | 'failureMode' | 'variantId'>
  readonly isRecorded: boolean
  readonly reading: Reading | null
  readonly hasFailed: boolean
  readonly isConflict: boolean
  readonly isWriting: boolean
  /** A draft that makes sense is tried. */
  readonly isTried: boolean
  readonly hasModes: boolean
  /** The next in order that has a recording. */
  readonly following: { readonly id: string; readonly name: string } | null
}

export type Next =
  | 'not-recorded'
  | 'failed'
  | 'reading'
  | 'conflict'
  | 'writing'
  | 'trying'
  | 'left-out'
  | 'zero-unknown'
  | 'not-assigned'
  | 'say-mode'
  | 'next-specimen'
  /** Of the whole study. */
  | 'study'

/** The one thing to do now, the most pressing first. */
export function nextOf(now: Situation): Next {
  if (!now.isRecorded) return 'not-recorded'
  if (now.isConflict) return 'conflict'
  if (now.hasFailed) return 'failed'
  if (!now.reading) return 'reading'
  if (now.isTried) return 'trying'
  if (now.isWriting) return 'writing'
  if (now.specimen.status === 'left-out') return 'left-out'
  if (now.reading.warnings.some(({ code }) => code === 'zero-unknown')) return 'zero-unknown'
  if (now.specimen.variantId === null) return 'not-assigned'
  if (now.hasModes && now.specimen.failureMode === null) return 'say-mode'
  return now.following ? 'next-specimen' : 'study'
}
