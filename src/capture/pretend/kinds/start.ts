import type { Act, BenchSpec } from '../bench.ts'
import type { Random } from '../random.ts'

/** How the indicator stood when the log began. */
export const ZEROINGS = ['tared', 'untared', 'under-load'] as const
export type Zeroing = (typeof ZEROINGS)[number]

/** Readings a second that the kinds which come in any setting have. */
export const RATES_HZ = [5, 10, 40, 80, 1000] as const

/** The circumstances of a record: drawn, or asked for. */
export interface Setting {
  readonly rateHz: number
  readonly zeroing: Zeroing
}

/**
 * How slowly everything goes at a rate: a slow indicator hangs on a slow rig, and what is read a thousand times a
 * second is over soon.
 */
export const paceAt = (rateHz: number): number => (rateHz <= 10 ? 1.5 : rateHz >= 500 ? 0.3 : 1)

/** Acts up to the pull, with the log begun. `restS`: how long the cell is seen without load, where it is. */
export function begun(random: Random, { zeroing }: Setting, preloadN: number, restS: number): Act[] {
  if (zeroing !== 'under-load')
    return [
      { do: 'wait', forS: 0.5 },
      ...(zeroing === 'tared' ? [{ do: 'zero' } as const] : []),
      { do: 'start-log' },
      { do: 'wait', forS: restS },
    ]
  return [
    { do: 'wait', forS: 0.3 },
    { do: 'pull', until: { what: 'force', forceN: preloadN }, overrunS: 0 },
    { do: 'wait', forS: random.between(1, 4) },
    { do: 'zero' },
    { do: 'wait', forS: random.between(0.2, 0.5) },
    { do: 'start-log' },
    { do: 'wait', forS: random.between(0.3, 1.5) },
  ]
}

/** An untared cell reads anything with nothing on it; a tared one reads nought. */
export function withOffset<T extends Omit<BenchSpec, 'acts'>>(
  random: Random,
  bench: T,
  { zeroing }: Setting,
  aboutN: number,
): T {
  if (zeroing !== 'untared') return bench
  const share = 0.04 * 50 ** random.next() // 4 % to twice the peak
  return { ...bench, offsetN: aboutN * share * (random.chance(0.6) ? 1 : -1) }
}
