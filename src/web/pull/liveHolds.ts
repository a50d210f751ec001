import { HOLD_SHARE, STEP_S } from '../../core/reading/selvedge.ts'
import type { LiveEvent } from '../../server/apiTypes.ts'
import type { GrowingCurve } from '../live/growingCurve.ts'
import type { Band } from '../parts/curve/types.ts'

/** However long a loading is, it is looked at in no more steps than this. */
const MOST_STEPS = 400

interface Step {
  readonly from: number
  readonly to: number
  readonly riseN: number
}

/** Where the force stands still within a loading, by the rule of the reading's own selvedge. */
export function withHolds(
  bands: readonly Band[],
  curve: Pick<GrowingCurve, 'each'>,
  zeroN: number,
  events: readonly Pick<LiveEvent, 'kind' | 'atS'>[],
): Band[] {
  return bands.flatMap(band => (band.kind === 'loading' ? splitByHolds(band, curve, zeroN, events) : [band]))
}

function splitByHolds(
  band: Band,
  curve: Pick<GrowingCurve, 'each'>,
  zeroN: number,
  events: readonly Pick<LiveEvent, 'kind' | 'atS'>[],
): Band[] {
  const { steps, rateNPerS } = stepsOf(band, curve, zeroN)
  const isHold = ({ from, to, riseN }: Step): boolean =>
    Math.abs(riseN) < HOLD_SHARE * rateNPerS * (to - from) &&
    !events.some(({ kind, atS }) => kind !== 'unload' && atS >= 2 * from - to && atS <= to)
  const split: Band[] = []
  for (const step of steps) {
    const kind = isHold(step) ? 'hold' : 'loading'
    const last = split.at(-1)
    if (last?.kind === kind) split[split.length - 1] = { kind, from: last.from, to: step.to }
    else split.push({ kind, from: step.from, to: step.to })
  }
  // One step only is a slow turn of the nut, not a hold.
  return joined(split.map(part => (part.to - part.from < 2 * STEP_S ? { ...part, kind: 'loading' } : part)))
}

/** A loading in steps, and its mean rate up to its greatest force. */
function stepsOf(band: Band, curve: Pick<GrowingCurve, 'each'>, zeroN: number) {
  const stepS = Math.max(STEP_S, (band.to - band.from) / MOST_STEPS)
  const steps: Step[] = []
  let from = band.from
  let fromN = Number.NaN
  let lastN = Number.NaN
  let top = { atS: band.from, forceN: 0 }
  curve.each((atS, lowN, highN) => {
    if (atS < band.from || atS > band.to) return
    lastN = (lowN + highN) / 2
    if (Number.isNaN(fromN)) fromN = lastN
    if (highN - zeroN > top.forceN) top = { atS, forceN: highN - zeroN }
    if (atS - from < stepS) return
    steps.push({ from, to: atS, riseN: lastN - fromN })
    from = atS
    fromN = lastN
  })
  // What is left is too short to tell: it goes on as what was before it.
  const last = steps.at(-1)
  if (last) steps[steps.length - 1] = { ...last, to: band.to }
  else steps.push({ from: band.from, to: band.to, riseN: Number.POSITIVE_INFINITY })
  return { steps, rateNPerS: top.forceN / Math.max(top.atS - band.from, STEP_S) }
}

const joined = (bands: readonly Band[]): Band[] =>
  bands.reduce<Band[]>((kept, band) => {
    const last = kept.at(-1)
    if (last?.kind === band.kind) kept[kept.length - 1] = { ...last, to: band.to }
    else kept.push(band)
    return kept
  }, [])
