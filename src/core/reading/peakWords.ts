import { counted } from '../counted.ts'
import { fromNewton, type ShownUnit } from '../units/force.ts'
import { decimalsFor, plainNumber, showForce, showForceBetween } from '../units/showForce.ts'
import type { PeakForce, Reading } from './document.ts'

/** An interval is called lopsided when one side is longer than the other by this share of its half-width. */
const LOPSIDED_SHARE = 0.2

/** The peak in words that keep its status: “68.2 ± 1.5 N”, “at least 68.2 N”, “68.2 ± 3.0 N, as indicated”, “not recorded”. */
export function peakWords(peak: PeakForce, unit: ShownUnit): string {
  const { status, valueN, uncertaintyN, lowN, highN } = peak
  if (status === 'no-pull') return 'no pull in this record'
  if (status === 'not-recorded') return 'peak not recorded'
  if (status === 'not-reached') {
    return valueN === null
      ? 'did not break'
      : `did not break, reached ${showForce(valueN, uncertaintyN, unit)}${asIndicated(peak)}`
  }
  if (valueN === null) return 'no peak force'
  if (status === 'at-least') {
    const floorN = lowN ?? valueN
    const decimals = decimalsFor(fromNewton(uncertaintyN ?? 0.01 * Math.abs(floorN), unit))
    return `at least ${plainNumber(fromNewton(floorN, unit), Math.min(decimals, 3))} ${unit}${asIndicated(peak)}`
  }
  if (
    lowN !== null &&
    highN !== null &&
    Math.abs(highN - valueN - (valueN - lowN)) > LOPSIDED_SHARE * (highN - lowN)
  ) {
    return `${showForceBetween(valueN, lowN, highN, unit)}${asIndicated(peak)}`
  }
  return `${showForce(valueN, uncertaintyN, unit)}${asIndicated(peak)}`
}

/** A figure whose zero was not seen never stands as if it had been. */
const asIndicated = ({ zero }: PeakForce): string => (zero === 'as-indicated' ? ', as indicated' : '')

/** The figure in sentences, for those who do not see it. */
export function readingDescription(reading: Reading, unit: ShownUnit): string {
  const { peakForce, partialBreaks, laterPeaks } = reading.results
  const pulls = `${counted(reading.pulls.length, 'pull')}.`
  const parts = partialBreaks > 0 ? ` ${counted(partialBreaks, 'partial break')}.` : ''
  const later = laterPeaks
    .map(p => ` Later a part let go at ${showForce(p.valueN, p.uncertaintyN, unit)}.`)
    .join('')
  const at = peakForce.atS === null ? '' : ` at ${peakForce.atS.toFixed(1)} s`
  return `Force against time. Peak force: ${peakWords(peakForce, unit)}${at}. ${pulls}${parts}${later}`
}
