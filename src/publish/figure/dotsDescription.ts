import { answerIn } from '../../core/answer/answerOf.ts'
import { doubtedWords, isNeverBelowZero } from '../../core/answer/words.ts'
import { withUnit } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { threeDigits } from '../../core/units/showForce.ts'

/** The figure of every specimen in words, from its data. */
export function dotsDescription(
  comparison: Comparison,
  { per, unit }: { per: number; unit: string },
): string {
  const { groups, specimens, verdict, quantity } = comparison
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const rows = groups.map(g => {
    const values = specimens.filter(s => s.group === g.name && s.value !== null && s.dropped === null)
    const figures = values.map(
      s => `${s.status === 'at-least' ? 'at least ' : ''}${threeDigits(s.value! / per)}`,
    )
    const listed =
      figures.length > 20
        ? `${figures.length} values from ${threeDigits((g.min ?? 0) / per)} to ${threeDigits((g.max ?? 0) / per)}`
        : figures.join(', ')
    const mean =
      g.mean === null
        ? ''
        : `; mean ${
            g.ci95 === null
              ? withUnit(threeDigits(g.mean / per), unit)
              : doubtedWords({ middle: g.mean, low: g.ci95[0], high: g.ci95[1] }, { unit, per }, neverBelow)
          }`
    return `${g.name}: ${listed}${mean}.`
  })
  return `Every specimen is a dot, with the mean and its interval beneath. ${answerIn(comparison).headline} ${rows.join(' ')} ${verdict}`
}
