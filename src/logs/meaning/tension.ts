import type { Assumption } from '../../core/recording.ts'
import { type Extent, extentIn, extentOf } from '../../core/signal/extent.ts'

export interface TensionSign {
  readonly negative: boolean
  readonly from: string
  readonly assumption: Assumption | null
  /** Which way the force goes, where the log so contradicts the sign that it was told to have that as told nothing pulls. */
  readonly against: 'up' | 'down' | null
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
export const tensionSign = (
  forceN: Float64Array,
  given: 'positive' | 'negative' | undefined,
  extent: Extent = extentOf(forceN),
): TensionSign => tensionSignOf(endsIn(forceN), given, extent)

/** As `tensionSign`, of a log of which only the ends and the extent are at hand. */
export function tensionSignOf(
  ends: ForceEnds,
  given: 'positive' | 'negative' | undefined,
  extent: Extent,
): TensionSign {
  if (given !== undefined)
    return { negative: given === 'negative', from: 'as told', ...againstTold(ends, given, extent) }
  const { up, down } = excursions(ends, extent)
  if (countsNegative(up, down)) {
    const text =
      'The great excursions of the force are negative: tension is taken as counted negative, and turned. --tension positive leaves it.'
    return {
      negative: true,
      from: 'found negative and turned',
      assumption: { code: 'tension-assumed', text },
      against: null,
    }
  }
  if (down > up / CLEARLY && down > 0) {
    const text =
      'The force goes about as far down as up: tension is taken as positive, as the log has it. --tension negative turns it.'
    return {
      negative: false,
      from: 'taken as positive',
      assumption: { code: 'tension-assumed', text },
      against: null,
    }
  }
  return { negative: false, from: 'positive', assumption: null, against: null }
}

/** A force that goes the told way by less than this share of how far it goes the other is a recoil or unrest, no pull. */
const NO_PULL = 1 / 3

/**
 * A pull that is turned into a push reads as no pull at all: a person must hear why. Where the log goes a good part of the
 * way as told, too, the person's word about this one log stands.
 */
function againstTold(
  ends: ForceEnds,
  given: 'positive' | 'negative',
  extent: Extent,
): Pick<TensionSign, 'assumption' | 'against'> {
  const direction = directionOf(ends, extent)
  if (direction === null || (direction === 'up') === (given === 'positive'))
    return { assumption: null, against: null }
  const { up, down } = excursions(ends, extent)
  const [asTold, other] = given === 'positive' ? [up, down] : [down, up]
  const text = `The force goes clearly ${direction} from its rest, yet tension was told to be ${given} in this log: as told, its great excursions are pushes, no pulls. Leave --tension out to have the sign found.`
  return {
    assumption: { code: 'contradiction', text },
    against: asTold < NO_PULL * other ? direction : null,
  }
}

/** The ends of a log's force, where its rest is looked for. */
export interface ForceEnds {
  /** A few of its first and of its last values. */
  readonly first: Float64Array
  readonly last: Float64Array
  /** Its last tenth. */
  readonly tail: Float64Array
}

const fewOf = (samples: number): number => Math.max(1, Math.min(20, samples >> 4))
const tailOf = (samples: number): number => Math.max(3, Math.floor(END_SHARE * samples))

function endsIn(forceN: Float64Array): ForceEnds {
  const few = fewOf(forceN.length)
  return {
    first: forceN.subarray(0, few),
    last: forceN.subarray(forceN.length - few),
    tail: forceN.subarray(Math.max(0, forceN.length - tailOf(forceN.length))),
  }
}

/** Keeps the ends of a log that goes by, value by value; of at most so many. */
export function endsOf(most: number): { add(forceN: number): void; seen(): ForceEnds } {
  const first = new Float64Array(fewOf(most))
  const ring = new Float64Array(Math.max(fewOf(most), tailOf(most)))
  let count = 0
  return {
    add(forceN) {
      if (count < first.length) first[count] = forceN
      ring[count % ring.length] = forceN
      count++
    },
    seen() {
      const lastOf = (some: number): Float64Array =>
        Float64Array.from(
          { length: Math.min(some, count) },
          (_, i) => ring[(count - Math.min(some, count) + i) % ring.length]!,
        )
      return {
        first: first.slice(0, Math.min(fewOf(count), count)),
        last: lastOf(fewOf(count)),
        tail: lastOf(tailOf(count)),
      }
    },
  }
}

/** How far the force goes up and down from its rest; `seen`: the log begins and ends in it. */
function excursions(
  { first, last, tail }: ForceEnds,
  { steadyLow: low, steadyHigh: high }: Extent,
): { readonly up: number; readonly down: number; readonly seen: boolean } {
  const movesN = ALIKE * (high - low)
  const start = spreadOf(first) > movesN ? (first[0] ?? 0) : middle(first)
  const end = spreadOf(last) > movesN ? (last.at(-1) ?? 0) : middle(last)
  const seen = Math.abs(start - end) <= ALIKE * (high - low)
  const rest = restBetween(tail, start, end, { low, high })
  return { up: high - rest, down: rest - low, seen }
}

/**
 * Which way the great excursions of the force go from a rest that the log begins and ends in; `null` where
 * unclear.
 */
export const clearDirection = (forceN: Float64Array): 'up' | 'down' | null =>
  directionOf(endsIn(forceN), extentOf(forceN))

function directionOf(ends: ForceEnds, extent: Extent): 'up' | 'down' | null {
  const { up, down, seen } = excursions(ends, extent)
  if (!seen) return null
  if (countsNegative(up, down)) return 'down'
  return countsNegative(down, up) ? 'up' : null
}

/** Ends of a record that differ by less than this share of its range show one rest. */
const ALIKE = 0.2
/** A force that comes so near to nought, as a share of its range, was there. */
const AT_NOUGHT = 0.02
/** Readings at the end that keep within this share of the range stand still. */
const STILL = 0.02
/** Part of the record that the still end must last. */
const END_SHARE = 0.1

/**
 * The reading without load: nought, where the log reaches it and passes it to neither side but one; where it begins
 * and ends; or where it stands still at its end for a tenth of
 * the record, at one end of its range, with a clear way past the start on the other side (a zero that was set
 * under load); else nought.
 */
function restBetween(
  tail: Float64Array,
  start: number,
  end: number,
  { low, high }: { low: number; high: number },
): number {
  const range = high - low
  // A force that never leaves nought but to one side went that way, however soon it was there and how long it was held.
  if (Math.min(Math.abs(low), Math.abs(high)) < AT_NOUGHT * range) return 0
  if (Math.abs(start - end) <= ALIKE * range) return (start + end) / 2
  const { steadyLow, steadyHigh } = extentIn(tail, 0, tail.length)
  const isStill = steadyHigh - steadyLow < STILL * range
  const atLow = end - low < 0.1 * range && high - start > 0.1 * range
  const atHigh = high - end < 0.1 * range && start - low > 0.1 * range
  return isStill && (atLow || atHigh) ? end : 0
}

/** An end that moves is where its outermost reading is. */
function spreadOf(values: Float64Array): number {
  const { steadyLow, steadyHigh } = extentIn(values, 0, values.length)
  return steadyHigh - steadyLow
}

function middle(values: Float64Array): number {
  return values.slice().sort()[values.length >> 1] ?? 0
}
