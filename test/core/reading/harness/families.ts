import {
  curveKinds,
  makePull,
  type PretendKind,
  pretendKinds,
  RATES_HZ,
  type Truth,
  ZEROINGS,
} from '../../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../../src/core/reading/document.ts'
import { readRecording } from '../../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../../src/core/recording.ts'
import { type Score, scoreOne } from './score.ts'

export const allKinds: readonly PretendKind[] = [...pretendKinds, ...curveKinds]

export interface Families {
  readonly kinds?: readonly PretendKind[]
  readonly firstSeed?: number
  readonly seeds?: number
}

export interface MadePull {
  readonly recording: Recording
  readonly truth: Truth
}

/**
 * `seeds` pretend pulls of every kind, one after another. A kind that comes in any setting goes through all rates in
 * every 5 seeds, and through all rates and zeroings in every 15.
 */
export function* madePulls({
  kinds = allKinds,
  firstSeed = 1,
  seeds = 4,
}: Families = {}): Generator<MadePull> {
  for (const kind of kinds)
    for (let seed = firstSeed; seed < firstSeed + seeds; seed++) {
      const rateHz = RATES_HZ[seed % RATES_HZ.length]!
      const zeroing = ZEROINGS[(seed + 2 * Math.floor(seed / RATES_HZ.length)) % ZEROINGS.length]!
      const { recording, truth } = makePull({ kind, seed, setting: { rateHz, zeroing } })
      yield { recording, truth }
    }
}

/** Judges a reading of a pull as a person has it made who knows how many elements the specimen had. */
export function judged(
  { recording, truth }: MadePull,
  read: (recording: Recording, options: { elements: number | null }) => Reading = readRecording,
): Score {
  return scoreOne(read(recording, { elements: truth.elements > 0 ? truth.elements : null }), truth)
}

export const scoreFamilies = (which: Families = {}): Score[] =>
  [...madePulls(which)].map(pull => judged(pull))

/** What the judge found wrong, one line a reading. */
export const faults = (scores: readonly Score[]): string =>
  scores
    .filter(s => s.notes.length > 0)
    .map(s => `${s.family} ${s.seed} (${s.rateHz.toFixed(0)}/s): ${s.notes.slice(0, 6).join('; ')}`)
    .join('\n')
