import type { Assumption } from '../../core/recording.ts'
import { type Extent, extentOf } from '../../core/signal/extent.ts'

export interface TensionSign {
  readonly negative: boolean
  readonly from: string
  readonly assumption: Assumption | null
}

/** How much further one way than the other the force must go before the sign is beyond doubt. */
const CLEARLY = 1.5

/** Whether a force that went so far up and so far down from its rest counts tension negative. */
export const countsNegative = (up: number, down: number): boolean => down > CLEARLY * up

/**
 * Whether the log counts tension negative: the great excursions of the force go down from its rest.
 * The rest is where the log begins and ends, or zero where these differ. Single odd samples do not count.
 * Where pushes and pulls are about as great, the log's own sign stands, and that is told.
 */
export function tensionSign(
  forceN: Float64Array,
  given: 'positive' | 'negative' | undefined,
  extent: Extent = extentOf(forceN),
): TensionSign {
  if (given !== undefined) return { negative: given === 'negative', from: 'as told', assumption: null }
  const { up, down } = excursions(forceN, extent)
  if (countsNegative(up, down)) {
    const text =
      'The great excursions of the force are negative: tension is taken as counted negative, and turned. --tension positive leaves it.'
    return {
      negative: true,
      from: 'found negative and turned',
      assumption: { code: 'tension-assumed', text },
    }
  }
  if (down > up / CLEARLY && down > 0) {
    const text =
      'The force goes about as far down as up: tension is taken as positive, as the log has it. --tension negative turns it.'
    return { negative: false, from: 'taken as positive', assumption: { code: 'tension-assumed', text } }
  }
  return { negative: false, from: 'positive', assumption: null }
}

/** How far the force goes up and down from its rest; `seen`: the log begins and ends in it. */
function excursions(
  forceN: Float64Array,
  { steadyLow: low, steadyHigh: high }: Extent,
): { readonly up: number; readonly down: number; readonly seen: boolean } {
  const ends = Math.max(1, Math.min(20, forceN.length >> 4))
  const start = middle(forceN.subarray(0, ends))
  const end = middle(forceN.subarray(forceN.length - ends))
  const seen = Math.abs(start - end) <= 0.2 * (high - low)
  const rest = seen ? (start + end) / 2 : 0
  return { up: high - rest, down: rest - low, seen }
}

/** Which way the great excursions of the force go from a rest that the log begins and ends in; `null` where unclear. */
export function clearDirection(forceN: Float64Array): 'up' | 'down' | null {
  const { up, down, seen } = excursions(forceN, extentOf(forceN))
  if (!seen) return null
  if (countsNegative(up, down)) return 'down'
  return countsNegative(down, up) ? 'up' : null
}

function middle(values: Float64Array): number {
  return values.slice().sort()[values.length >> 1] ?? 0
}
