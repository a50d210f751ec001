import { makePull, type PretendKind, pretendKinds } from '../../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../../src/core/reading/readRecording.ts'
import { type Score, scoreOne } from './score.ts'

/** Reads `seeds` pretend pulls of every kind, as a person would who knows how many elements each specimen had. */
export function scoreFamilies({
  kinds = pretendKinds,
  firstSeed = 1,
  seeds = 4,
}: {
  kinds?: readonly PretendKind[]
  firstSeed?: number
  seeds?: number
} = {}): Score[] {
  const scores: Score[] = []
  for (const kind of kinds)
    for (let seed = firstSeed; seed < firstSeed + seeds; seed++) {
      const { recording, truth } = makePull({ kind, seed })
      scores.push(scoreOne(readRecording(recording, { elements: truth.elements }), truth))
    }
  return scores
}

/** What the judge found wrong, one line a reading. */
export const faults = (scores: readonly Score[]): string =>
  scores
    .filter(s => s.notes.length > 0)
    .map(s => `${s.family} ${s.seed} (${s.rateHz.toFixed(0)}/s): ${s.notes.slice(0, 6).join('; ')}`)
    .join('\n')
