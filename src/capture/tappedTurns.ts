import type { Channel, ChannelHead } from '../core/recording.ts'
import type { Gathered } from './gather.ts'

/** Its unit is turned into mm, and its kind into travel, by a rig whose drive has a pitch. */
export const TURNS: ChannelHead = {
  name: 'turns tapped by hand, even between taps',
  kind: 'travel',
  unit: 'turns',
}

/** A tap, before which sample it came, and the turns that were done by then. */
interface Tap {
  readonly sample: number
  readonly turns: number
}

/** The taps that stand, of so many samples. */
export function tapsIn(remarks: Gathered['remarks'], samples: number): Tap[] {
  const taps: Tap[] = []
  for (const { remark, sample } of remarks) {
    if (remark.kind !== 'turn') continue
    if (remark.count < 0) taps.pop()
    else taps.push({ sample: Math.min(sample, samples - 1), turns: (taps.at(-1)?.turns ?? 0) + 1 })
  }
  return taps
}

/**
 * The turns of a hand-turned drive at a run of samples that begins at the sample `from`: a tap says that one more is done.
 * Between two taps the drive is taken to turn evenly; before the first and after the last nobody knows, and that is NaN.
 * @param tapTimeS time of the sample of each tap
 */
export function turnsAt(
  taps: readonly Tap[],
  tapTimeS: readonly number[],
  timeS: Float64Array,
  from: number,
): Float64Array {
  const values = new Float64Array(timeS.length).fill(Number.NaN)
  const last = from + timeS.length
  for (let k = 1; k < taps.length; k++) {
    const begin = taps[k - 1]!
    const end = taps[k]!
    const fromS = tapTimeS[k - 1]!
    const spanS = tapTimeS[k]! - fromS
    for (let i = Math.max(begin.sample, from); i < Math.min(end.sample, last); i++)
      values[i - from] = begin.turns + ((end.turns - begin.turns) * (timeS[i - from]! - fromS)) / spanS
    if (end.sample >= from && end.sample < last) values[end.sample - from] = end.turns
  }
  return values
}

/** The turns as a channel, from a key tapped at each. None where fewer than two taps came. */
export function tappedTurns({ remarks }: Pick<Gathered, 'remarks'>, timeS: Float64Array): Channel[] {
  const taps = tapsIn(remarks, timeS.length)
  if (taps.length < 2) return []
  const tapTimeS = taps.map(({ sample }) => timeS[sample]!)
  return [{ ...TURNS, values: turnsAt(taps, tapTimeS, timeS, 0) }]
}
