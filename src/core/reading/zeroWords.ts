import type { Recording } from '../recording.ts'
import type { PeakForce, Reading, ZeroAlternative } from './document.ts'
import type { ShowForce } from './explainLedger.ts'

/** Fewer readings than this on a level are no stretch that anyone could point to. */
const LEAST_READINGS = 3

/**
 * Where the zero was not seen and more than one remains possible: all of them in one sentence, the likeliest first.
 * `null` where there is nothing to choose between.
 */
export function zeroSentence(peak: PeakForce, show: ShowForce): string | null {
  const possible = possibleZeros(peak)
  if (possible.length < 2) return null
  const told = possible.map(
    ({ levelN, peakN, weight }) =>
      `${show(peakN, null)} if the empty cell reads ${show(levelN, null)} (${Math.round(100 * weight)} in 100)`,
  )
  return `The peak is ${told.slice(0, -1).join(', ')} or ${told.at(-1)}: the record does not settle it.`
}

/** A zero that keeps less is possible no more, as among the alternatives of a reading. */
const POSSIBLE = 0.05

/** The zero that was taken and the others that remain possible, the likeliest first. */
function possibleZeros({ zeroAlternatives, valueN }: PeakForce): Omit<ZeroAlternative, 'basis'>[] {
  const others = zeroAlternatives ?? []
  const [one] = others
  const weight = 1 - others.reduce((sum, other) => sum + other.weight, 0)
  // A peak and its zero add up to the reading, whichever zero is right.
  const taken =
    one === undefined || valueN === null || weight <= POSSIBLE
      ? []
      : [{ levelN: one.levelN + one.peakN - valueN, peakN: valueN, weight }]
  return [...taken, ...others].sort((a, b) => b.weight - a.weight)
}

/** A level that may be the zero, and where the reading stands at it. */
export interface ZeroChoice {
  readonly levelN: number
  readonly fromS: number
  readonly toS: number
}

/** Where a person can say what the reading stood at: the empty cell, or a held load. None where nothing is open. */
export function zeroChoices(
  recording: Pick<Recording, 'timeS' | 'forceN'>,
  { recording: summary, results }: Pick<Reading, 'recording' | 'results'>,
): ZeroChoice[] {
  const possible = possibleZeros(results.peakForce)
  if (possible.length < 2) return []
  return possible.flatMap(({ levelN }) => {
    const stretch = stretchAtLevel(recording, summary, levelN)
    return stretch ? [{ levelN, ...stretch }] : []
  })
}

/** Where the reading stands at the levels that may be the zero, so that a person can look there; `null`: nowhere. */
export function whereItStood(choices: readonly ZeroChoice[], show: ShowForce): string | null {
  if (choices.length === 0) return null
  const told = choices.map(
    ({ levelN, fromS, toS }) => `at ${show(levelN, null)} from ${fromS.toFixed(2)} to ${toS.toFixed(2)} s`,
  )
  return `It stood ${told.join(', ')}.`
}

/** The longest time that the reading stands at a level, so that a person can say what it was; `null`: it never does. */
export function stretchAtLevel(
  { timeS, forceN }: Pick<Recording, 'timeS' | 'forceN'>,
  { noiseN, quantumN }: Pick<Reading['recording'], 'noiseN' | 'quantumN'>,
  levelN: number,
): { readonly fromS: number; readonly toS: number } | null {
  const within = Math.max(4 * noiseN, 1.5 * quantumN, 1e-9 * Math.abs(levelN))
  let longest: { from: number; to: number } | null = null
  let from = -1
  for (let i = 0; i <= forceN.length; i++) {
    const isOn = i < forceN.length && Math.abs(forceN[i]! - levelN) <= within
    if (isOn && from < 0) from = i
    if (isOn || from < 0) continue
    if (
      i - from >= LEAST_READINGS &&
      (longest === null || lasts(timeS, from, i) > lasts(timeS, longest.from, longest.to))
    )
      longest = { from, to: i }
    from = -1
  }
  return longest && { fromS: timeS[longest.from]!, toS: timeS[longest.to - 1]! }
}

const lasts = (timeS: Float64Array, from: number, to: number): number => timeS[to - 1]! - timeS[from]!
