import type { Score } from '../harness/score.ts'

/** What a mistake costs in the fit of the priors: an ordinary one about 1, one that misleads in silence 2. */
const COSTS = {
  /** Of the peak, for each percent that it is off; no more than for 10 %. */
  peakPerPercent: 0.1,
  peakMostPercent: 10,
  uncovered: 0.5,
  /** Of the interval's half-width, for each percent of the peak. */
  widthPerPercent: 0.05,
  widthMostPercent: 10,
  farOff: 2,
  wrongStatus: 0.5,
  wrongZero: 1,
  wrongPulls: 1,
  wrongEnd: 0.5,
  /** A drop missed, invented or misnamed, at most so many of them. */
  drop: 0.3,
  mostDrops: 5,
  inGap: 1,
  falseAlarm: 0.3,
  unsaid: 0.5,
} as const

/** What is wrong with a reading of a made record, in one number; 0: nothing that the truth tells of. */
export function lossOf(score: Score): number {
  const { drop, mostDrops } = COSTS
  const drops = score.missed + score.invented + (score.found - score.kindRight)
  const said = [score.saysClipped, score.saysZeroUnknown, score.spikesSaid, score.gapsSaid, score.rezeroSaid]
  return (
    percent(score.peakError, COSTS.peakPerPercent, COSTS.peakMostPercent) +
    percent(score.peakWidth, COSTS.widthPerPercent, COSTS.widthMostPercent) +
    when(score.peakCovered === false, COSTS.uncovered) +
    when(score.farOff === true, COSTS.farOff) +
    when(score.statusRight === false, COSTS.wrongStatus) +
    when(score.zeroRight === false, COSTS.wrongZero) +
    when(!score.pullsRight, COSTS.wrongPulls) +
    COSTS.wrongEnd * score.endsRight.filter(right => !right).length +
    drop * Math.min(mostDrops, drops) +
    COSTS.inGap * Math.min(1, score.inGap) +
    COSTS.falseAlarm * Math.min(2, score.falseAlarms) +
    COSTS.unsaid * said.reduce<number>((sum, share) => sum + (share === null ? 0 : 1 - Number(share)), 0)
  )
}

const when = (is: boolean, cost: number): number => (is ? cost : 0)
const percent = (share: number | null, each: number, most: number): number =>
  share === null ? 0 : each * Math.min(most, 100 * share)
