import { fitLine, lineAt } from '../signal/line.ts'
import type { Analysis } from './analyse.ts'
import type { BudgetLine } from './document.ts'
import type { PullPeak } from './peak.ts'
import { pullFrom } from './pulls.ts'

/** Readings before the top from which the pace there is taken. */
const PACE_READINGS = 6
/** A wild reading so many periods from the greatest good one may have been the top. */
const NEAR_PERIODS = 2.5

/**
 * What wild readings that were left out beside the top may hide: the force may have gone on at its pace from the last good
 * reading before them to the first good one after; evenly likely from the stated peak up to there. None where no wild
 * reading stands there, or the rise leads no higher.
 */
export function leftOutAtTop(
  { signal, series, loadN, pace, pulls }: Analysis,
  { sampleIndex, sampleS, valueN }: PullPeak,
): BudgetLine[] {
  const { timeS } = series
  const near = NEAR_PERIODS * pace.periodS
  const wild = new Set(signal.spikes.filter(s => Math.abs(s.atS - sampleS) < near).map(s => s.atS))
  if (wild.size === 0) return []
  const first = pullFrom(pulls, sampleIndex)
  let mostN = 0
  for (let i = Math.max(first + 1, sampleIndex - 3); i <= sampleIndex + 3 && i < timeS.length - 1; i++) {
    if (!wild.has(timeS[i]!) || wild.has(timeS[i - 1]!)) continue
    let after = i + 1
    while (after < timeS.length - 1 && wild.has(timeS[after]!)) after++
    const from = Math.max(first, i - PACE_READINGS)
    if (i - from < 3) continue
    const line = fitLine(timeS, loadN, from, i)
    if (line.slopeNPerS > 0) mostN = Math.max(mostN, lineAt(line, timeS[after]!) - valueN)
  }
  return mostN > 0
    ? [
        {
          source: 'wild reading left out at the top',
          standardN: mostN / Math.sqrt(3),
          correctionN: 0,
          shared: 'none',
        },
      ]
    : []
}
