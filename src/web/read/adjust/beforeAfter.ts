import type { Reading } from '../../../core/reading/document.ts'
import { laterPeakHalfN } from '../../../core/reading/doubtInProportion.ts'
import { peakWords } from '../../../core/reading/peakWords.ts'
import { fromNewton, type ShownUnit } from '../../../core/units/force.ts'
import { showForce, threeDigits } from '../../../core/units/showForce.ts'
import { texts } from '../../texts/index.ts'

export interface Changed {
  readonly name: string
  readonly before: string
  readonly after: string
}

/** The figures of two readings that are not the same, as they are shown; the peak always. */
export function beforeAfter(before: Reading, after: Reading, unit: ShownUnit): Changed[] {
  const names = texts.read.figures
  const rows: [string, (reading: Reading) => string][] = [
    [names.peakForce, r => peakWords(r.results.peakForce, unit)],
    [names.pulls, r => `${r.pulls.length}`],
    [names.partialBreaks, r => `${r.results.partialBreaks}`],
    [names.slips, r => `${r.events.filter(e => e.kind === 'slip').length}`],
    [names.elements, elementsGone],
    [
      names.laterPeaks,
      r =>
        r.results.laterPeaks.map(p => showForce(p.valueN, laterPeakHalfN(r, p), unit)).join(', ') ||
        texts.read.none,
    ],
    [names.work, r => (r.results.work ? `${threeDigits(r.results.work.valueJ)} J` : texts.read.none)],
    [names.stiffness, stiffnessWords],
    [
      names.loadingRate,
      r => {
        const { loadingRate } = r.results
        return loadingRate
          ? `${threeDigits(fromNewton(loadingRate.meanNPerS, unit))} ${unit}/s`
          : texts.read.none
      },
    ],
    [
      names.timeToPeak,
      r => (r.results.timeToPeakS === null ? texts.read.none : `${r.results.timeToPeakS.toFixed(2)} s`),
    ],
  ]
  return rows
    .map(([name, show]) => ({ name, before: show(before), after: show(after) }))
    .filter((row, i) => i === 0 || row.before !== row.after)
}

/** How many elements were seen to let go, by the estimates. */
function elementsGone({ events }: Reading): string {
  const counted = events.flatMap(event => (event.elements ? [event.elements.estimate] : []))
  return counted.length === 0 ? texts.read.none : `${counted.reduce((sum, n) => sum + n, 0)}`
}

/** Without extension it is a loading rate, which has a line of its own. */
function stiffnessWords({ results: { stiffness } }: Reading): string {
  if (!stiffness || stiffness.unit.endsWith('/s')) return texts.read.none
  return `${threeDigits(stiffness.value)} ${stiffness.unit}`
}
