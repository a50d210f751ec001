import type { Reading } from '../../core/reading/document.ts'
import { laterPeakHalfN, workHalfJ } from '../../core/reading/doubtInProportion.ts'
import { explain } from '../../core/reading/explain.ts'
import type { ShowForce } from '../../core/reading/explainLedger.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { fromNewton } from '../../core/units/force.ts'
import { decimalsFor, plainNumber, showForce, threeDigits } from '../../core/units/showForce.ts'
import { texts } from '../texts/index.ts'

/** A figure of a reading as its screen shows it. */
export interface Figure {
  readonly id: string
  readonly name: string
  readonly words: string
  /** The unit that `words` end in where it is one of force. */
  readonly unit: ShownUnit | null
  readonly why: string
  /** Where in the record it comes from. */
  readonly atS: number | null
}

/** All figures beside the peak force that the reading has, each with why it is what it is. */
export function figuresOf(reading: Reading, unit: ShownUnit, show: ShowForce): Figure[] {
  const { partialBreaks, laterPeaks, timeToPeakS, stiffness, work, loadingRate, peakForce } = reading.results
  const { whys } = explain(reading, show)
  const whyOf = (about: string, nth = 0): string => whys.filter(why => why.about === about)[nth]?.text ?? ''
  const names = texts.read.figures
  const figures: Figure[] = laterPeaks.map((later, i) => ({
    id: `later-${later.pull}`,
    name: texts.read.laterPeak(later.pull + 1),
    words: showForce(later.valueN, laterPeakHalfN(reading, later), unit),
    unit,
    why: whyOf('laterPeaks', i),
    atS: later.atS,
  }))
  const add = (id: string, name: string, words: string, why: string, atS: number | null) =>
    figures.push({ id, name, words, unit: null, why, atS })
  if (partialBreaks > 0) {
    const first = reading.events.find(event => event.kind === 'partial-break')
    add('partialBreaks', names.partialBreaks, `${partialBreaks}`, whyOf('partialBreaks'), first?.atS ?? null)
  }
  if (work) add('work', names.work, workWords(work.valueJ, workHalfJ(reading)), whyOf('work'), peakForce.atS)
  const isRate = stiffness?.unit.endsWith('/s') ?? false
  // Without extension the straight part tells a rate: once is enough.
  if (stiffness && !isRate) {
    const words = `${threeDigits(stiffness.value)} ${stiffness.unit}`
    add('stiffness', names.stiffness, words, whyOf('stiffness'), startOfMain(reading))
  }
  if (timeToPeakS !== null)
    add(
      'timeToPeak',
      names.timeToPeak,
      `${timeToPeakS.toFixed(2)} s`,
      whyOf('timeToPeakS'),
      startOfMain(reading),
    )
  if (loadingRate) {
    const rate = threeDigits(fromNewton(loadingRate.meanNPerS, unit))
    const { unevenness } = loadingRate
    const why = [
      isRate ? whyOf('stiffness') : '',
      unevenness === null ? '' : texts.read.unevenness((100 * unevenness).toFixed(0)),
    ]
    add(
      'loadingRate',
      names.loadingRate,
      `${rate} ${unit}/s`,
      why.filter(Boolean).join(' '),
      startOfMain(reading),
    )
  }
  return figures
}

function workWords(valueJ: number, halfJ: number | null): string {
  if (halfJ === null || !(halfJ > 0)) return `${threeDigits(valueJ)} J`
  const decimals = decimalsFor(halfJ)
  return `${plainNumber(valueJ, decimals)} ± ${plainNumber(halfJ, decimals)} J`
}

/** When the pull with the peak began. */
function startOfMain({ pulls, results: { peakForce } }: Reading): number | null {
  const { atS } = peakForce
  return atS === null ? null : (pulls.find(p => p.startS <= atS && p.endS >= atS)?.startS ?? null)
}
