import type { Reading } from '../../reading/document.ts'
import type { ComparisonWarning } from '../document.ts'

const TEXTS: Readonly<Record<string, string>> = {
  'not-calibrated': 'the scale was not checked: differences on one rig hold as shares, the newtons may not',
  'zero-unknown':
    'the empty cell was never seen: the force counts as the indicator gave it, with the doubt that this leaves',
  'slow-sampling': 'sampling was slow for the speed of loading',
  'over-range': 'the cell was driven over its range',
  'unit-assumed': 'the unit was taken for granted',
}

/** Warnings of readings that touch their comparison: each once, with how many readings carry it. */
export function readingWarnings(readings: readonly Pick<Reading, 'warnings'>[]): ComparisonWarning[] {
  const all = readings.length
  return Object.entries(TEXTS).flatMap(([code, text]) => {
    const n = readings.filter(({ warnings }) => warnings.some(one => one.code === code)).length
    if (n === 0) return []
    if (code === 'not-calibrated' && n < all) return [partlyCalibrated(n, all)]
    const many = all === 1 ? 'the one reading' : n === all ? `all ${n} readings` : `${n} of ${all} readings`
    return [{ code, text: `In ${many} ${text}.` }]
  })
}

/** Some scales checked and others not: then even a difference may be the scale's. */
const partlyCalibrated = (n: number, all: number): ComparisonWarning => ({
  code: 'partly-calibrated',
  text: `In ${n} of ${all} readings the scale was not checked, in the others it was: a difference between them may be the scale's.`,
})
