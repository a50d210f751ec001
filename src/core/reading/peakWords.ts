import { counted } from '../counted.ts'
import { fromNewton, type ShownUnit } from '../units/force.ts'
import { decimalsFor, type ForceEnds, plainNumber, showForce } from '../units/showForce.ts'
import type { PeakForce, Reading } from './document.ts'
import { laterPeakHalfN } from './doubtInProportion.ts'

/** Ends of the interval of a peak, where both are known. */
export const peakEnds = ({ lowN, highN }: PeakForce): ForceEnds | null =>
  lowN === null || highN === null ? null : { lowN, highN }

/** The lower end of a peak's interval where a picture draws it: nothing holds less than nothing. */
export const shownLowN = ({ lowN, valueN }: PeakForce): number | null =>
  lowN === null || (valueN ?? 0) < 0 ? lowN : Math.max(0, lowN)

/** The peak in words that keep its status: “68.2 ± 1.5 N”, “at least 68.2 N”, “68.2 ± 3.0 N, as indicated”, “not recorded”. */
export function peakWords(peak: PeakForce, unit: ShownUnit): string {
  const { status, valueN, uncertaintyN, lowN } = peak
  if (status === 'no-pull') return 'no pull in this record'
  if (status === 'not-recorded') return 'peak not recorded'
  if (status === 'not-reached') {
    return valueN === null
      ? 'did not break'
      : `did not break, reached ${showForce(valueN, uncertaintyN, unit, peakEnds(peak))}${asIndicated(peak)}`
  }
  if (valueN === null) return 'no peak force'
  if (status === 'at-least') {
    const floorN = lowN ?? valueN
    const decimals = decimalsFor(fromNewton(uncertaintyN ?? 0.01 * Math.abs(floorN), unit))
    return `at least ${plainNumber(fromNewton(floorN, unit), Math.min(decimals, 3))} ${unit}${asIndicated(peak)}`
  }
  return `${showForce(valueN, uncertaintyN, unit, peakEnds(peak))}${asIndicated(peak)}`
}

/** A figure whose zero was not seen never stands as if it had been. */
const asIndicated = ({ zero }: PeakForce): string => (zero === 'as-indicated' ? ', as indicated' : '')

/** The figure in sentences, for those who do not see it. */
export function readingDescription(reading: Reading, unit: ShownUnit): string {
  const { peakForce, partialBreaks, laterPeaks } = reading.results
  const pulls = `${counted(reading.pulls.length, 'pull')}.`
  const parts = partialBreaks > 0 ? ` ${counted(partialBreaks, 'partial break')}.` : ''
  const later = laterPeaks
    .map(p => ` Later a part let go at ${showForce(p.valueN, laterPeakHalfN(reading, p), unit)}.`)
    .join('')
  const at = peakForce.atS === null ? '' : ` at ${peakForce.atS.toFixed(1)} s`
  return `Force against time. Peak force: ${peakWords(peakForce, unit)}${at}. ${pulls}${parts}${later}`
}
