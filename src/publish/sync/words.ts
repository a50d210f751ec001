import { plainNumber } from '../../core/units/showForce.ts'
import type { Placement } from './document.ts'
import { CONFIDENT } from './matchPattern.ts'

/** One sentence on how sure a placement is, and what to do where it is not. */
export function sureWords(placement: Placement): string {
  const { by, confidence, confident, uncertaintyS, matched, accepted } = placement
  if (by === 'hand' || confidence === null || uncertaintyS === null)
    return 'Placed by hand; its doubt is not known.'
  const percent = chanceWords(confidence)
  if (confident) return `Confident: ${percent}, ${matched.length} sounds agree.`
  const taken = accepted ? ' Taken all the same, as asked.' : ''
  if (matched.length < CONFIDENT.matched)
    return `Not confident: only ${matched.length} sounds agree, which may be chance. Tap the rig three times, unevenly, before the pull.${taken}`
  if (confidence < CONFIDENT.probability)
    return `Not confident: ${percent}; other places fit nearly as well, or chance does. Look, then accept or nudge it.${taken}`
  return `Not confident: the place is right (${percent}), but known only to ± ${secondsWords(uncertaintyS)}. Nudge it by eye, or log faster.${taken}`
}

/** `12.345 s`, `1:02.345`: a time of a clip to the millisecond. */
export function clipTimeWords(clipS: number): string {
  const ms = Math.round(Math.abs(clipS) * 1000)
  const sign = clipS < 0 && ms > 0 ? '−' : ''
  const minutes = Math.floor(ms / 60_000)
  const seconds = ((ms % 60_000) / 1000).toFixed(3)
  return minutes === 0 ? `${sign}${seconds} s` : `${sign}${minutes}:${seconds.padStart(6, '0')}`
}

export const secondsWords = (s: number): string => `${plainNumber(s, s < 0.0995 ? 3 : 2)} s`

/** A chance that is nearly sure is never called sure. */
const chanceWords = (chance: number): string =>
  chance > 0.9999 ? 'over 99.99 %' : `${plainNumber(100 * chance, chance > 0.99 ? 2 : 0)} %`
