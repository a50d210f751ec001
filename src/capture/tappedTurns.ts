import type { Channel } from '../core/recording.ts'
import type { Gathered } from './gather.ts'

/** Its unit is turned into mm, and its kind into travel, by a rig whose drive has a pitch. */
const NAME = 'turns tapped by hand, even between taps'

/**
 * The turns of a hand-turned drive as a channel, from a key tapped at each: a tap says that one more is done. Between two
 * taps the drive is taken to turn evenly; before the first and after the last nobody knows, and the channel is NaN.
 * None where fewer than two taps came.
 */
export function tappedTurns({ remarks }: Pick<Gathered, 'remarks'>, timeS: Float64Array): Channel[] {
  const taps: { sample: number; turns: number }[] = []
  for (const { remark, sample } of remarks) {
    if (remark.kind !== 'turn') continue
    if (remark.count < 0) taps.pop()
    else taps.push({ sample: Math.min(sample, timeS.length - 1), turns: (taps.at(-1)?.turns ?? 0) + 1 })
  }
  if (taps.length < 2) return []
  const values = new Float64Array(timeS.length).fill(Number.NaN)
  for (let k = 1; k < taps.length; k++) {
    const from = taps[k - 1]!
    const to = taps[k]!
    const fromS = timeS[from.sample]!
    const spanS = timeS[to.sample]! - fromS
    for (let i = from.sample; i < to.sample; i++)
      values[i] = from.turns + ((to.turns - from.turns) * (timeS[i]! - fromS)) / spanS
    values[to.sample] = to.turns
  }
  return [{ name: NAME, kind: 'travel', unit: 'turns', values }]
}
