import { list } from '../statistics/compare/words.ts'
import type { Compared, Standing } from './standing.ts'

/** What is said first where all are compared with one control and not with each other, ever shorter. */
export function headlineAgainst(control: string, { pairs }: Compared, { beats }: Standing): string[] {
  const others = pairs.map(({ a, b }) => (a === control ? b : a))
  const more = others.filter(name => beats(name, control))
  const less = others.filter(name => beats(control, name))
  if (more.length > 0)
    return [`More than ${control}: ${list(more)}.`, `More than the control: ${more.length} variants.`]
  if (less.length === others.length)
    return [`All others are less than ${control}.`, 'All are less than the control.']
  if (less.length > 0)
    return [
      `Less than ${control}: ${list(less)}. None is shown more.`,
      `Less than the control: ${less.length} variants.`,
    ]
  return pairs.every(({ verdict }) => verdict === 'equivalent')
    ? [`All are as good as ${control}.`, 'All are as good as the control.']
    : [`None is shown to differ from ${control}.`, 'None is shown to differ from the control.']
}
