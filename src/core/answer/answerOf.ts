import type { Comparison } from '../statistics/document.ts'
import type { Answer } from './document.ts'
import { doubtsOf } from './doubts.ts'
import { headlineOf } from './headline.ts'
import { nextStepOf } from './nextStep.ts'
import { rankingOf } from './ranking.ts'
import { type Compared, standingOf } from './standing.ts'

/** The answer of a comparison: headline, ranking, doubts, and the one next step. */
export function answerOf(compared: Compared): Answer {
  const standing = standingOf(compared)
  return {
    headline: headlineOf(compared, standing),
    ranking: rankingOf(compared, standing),
    doubts: doubtsOf(compared),
    next: nextStepOf(compared, standing),
  }
}

/** The answer that a comparison carries, or of one that was made before answers were. */
export const answerIn = (comparison: Comparison): Answer => comparison.answer ?? answerOf(comparison)
