import { answerIn } from '../../core/answer/answerOf.ts'
import { withUnit } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { threeDigits } from '../../core/units/showForce.ts'

/** The figure of every specimen in words, from its data. */
export function dotsDescription(
  comparison: Comparison,
  { per, unit }: { per: number; unit: string },
): string {
  const { groups, specimens, verdict } = comparison
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
        : `; mean ${withUnit(threeDigits(g.mean / per), unit)}${g.ci95 === null ? '' : `, 95 % interval ${threeDigits(g.ci95[0] / per)} to ${threeDigits(g.ci95[1] / per)}`}`
    return `${g.name}: ${listed}${mean}.`
  })
  return `Every specimen is a dot, with the mean and its interval beneath. ${answerIn(comparison).headline} ${rows.join(' ')} ${verdict}`
}
