import { threeDigits } from '../units/showForce.ts'
import type { Verdict } from './document.ts'

/** A verdict in one line: `Within the limits of class 1, from 4.9 to 19.6 N`. */
export function verdictWords(verdict: Pick<Verdict, 'class' | 'range'>): string {
  if (verdict.class === null || verdict.range.fromN === null || verdict.range.toN === null)
    return 'No class is reached'
  return `Within the limits of class ${verdict.class}, from ${threeDigits(verdict.range.fromN)} to ${threeDigits(verdict.range.toN)} N`
}
