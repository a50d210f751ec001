import { readFileSync, writeFileSync } from 'node:fs'
import {
  COURSE_PRIORS,
  DROP_PRIORS,
  ELEMENT_PRIORS,
  type Prior,
  ZERO_PRIORS,
} from '../../../../src/core/reading/priors.ts'
import { readRecording } from '../../../../src/core/reading/readRecording.ts'
import { checked, labelledRecords, realChecks } from '../fit/realRecords.ts'
import type { Score } from './score.ts'
import { type Summary, summarise } from './summary.ts'

/** The parts of docs/reading.md that a script writes: the priors, and the figures over made and real records. */

const mark = (part: string): readonly [string, string] => [
  `<!-- ${part}: made by a script -->`,
  `<!-- end of ${part} -->`,
]

/** A page with one of its parts written anew; a page without that part is not changed. */
export function withPart(page: string, part: string, text: string): string {
  const [begin, end] = mark(part)
  const from = page.indexOf(begin)
  const to = page.indexOf(end)
  return from < 0 || to < from ? page : `${page.slice(0, from + begin.length)}\n${text}\n${page.slice(to)}`
}

const markdown = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map((_, i) => (i === 0 ? '---' : '--:')), ...rows]
    .map(row => `| ${row.join(' | ')} |`)
    .join('\n')

export function priorsTable(): string {
  const rows = [ZERO_PRIORS, DROP_PRIORS, ELEMENT_PRIORS, COURSE_PRIORS].flatMap(of =>
    Object.entries<Prior>(of),
  )
  const cells = rows.map(([name, { value, unit, means, from }]) => [
    `\`${name}\``,
    String(value),
    unit,
    means,
    from,
  ])
  const head = ['prior', 'value', 'unit', 'meaning', 'from']
  return [head, head.map(() => '---'), ...cells].map(row => `| ${row.join(' | ')} |`).join('\n')
}

const SHOWN: readonly (readonly [keyof Summary, string, 'share' | 'percent'])[] = [
  ['eventF1', 'events, F1', 'share'],
  ['kindRight', 'kinds right', 'share'],
  ['pullsRight', 'pulls', 'share'],
  ['endsRight', 'ends', 'share'],
  ['peakErrorMedian', 'peak off, median', 'percent'],
  ['peakErrorP95Fast', '95th, 40/s and more', 'percent'],
  ['peakErrorP95Slow', '95th, slower', 'percent'],
  ['peakCovered', 'interval holds it', 'share'],
  ['peakWidthMedian', 'half-width', 'percent'],
  ['statusRight', 'status', 'share'],
  ['zeroRight', 'zero', 'share'],
  ['falseAlarms', 'false alarms a record', 'share'],
]

const cell = (value: number | null, as: 'share' | 'percent'): string =>
  value === null ? '' : as === 'percent' ? `${(100 * value).toFixed(2)} %` : value.toFixed(3)

export function madeTable(scores: readonly Score[]): string {
  const row = (name: string, of: readonly Score[]): string[] => {
    const sum = summarise(of)
    return [name, ...SHOWN.map(([key, , as]) => cell(sum[key], as))]
  }
  const families = [...new Set(scores.map(s => s.family))]
  return markdown(
    ['kind', ...SHOWN.map(([, title]) => title)],
    [
      ...families.map(f =>
        row(
          f,
          scores.filter(s => s.family === f),
        ),
      ),
      row('**all**', scores),
    ],
  )
}

/** Shares over labelled records, without telling which they are. */
function realTable(folder: string): string {
  const { records } = labelledRecords(folder)
  const all = records.map(one => checked(readRecording(one.recording), one))
  const rows = realChecks.map(check => {
    const told = all.flatMap(one => (one[check] === undefined ? [] : [one[check]]))
    const right = told.filter(Boolean).length
    return [
      check,
      `${right} of ${told.length}`,
      told.length === 0 ? '' : `${((100 * right) / told.length).toFixed(0)} %`,
    ]
  })
  return markdown(['check', 'right', 'share'], rows)
}

export function writeFigures(page: string, scores: readonly Score[], realFolder: string | null): void {
  const perKind = Math.max(
    ...[...new Set(scores.map(s => s.family))].map(f => scores.filter(s => s.family === f).length),
  )
  let text = withPart(readFileSync(page, 'utf8'), 'priors', priorsTable())
  text = withPart(text, 'made', `${scores.length} records, ${perKind} of each kind.\n\n${madeTable(scores)}`)
  if (realFolder !== null) text = withPart(text, 'real', realTable(realFolder))
  writeFileSync(page, text)
}
