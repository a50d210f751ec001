import { allKinds, faults, judged, madePulls } from './families.ts'
import type { Score } from './score.ts'
import { type Summary, summarise } from './summary.ts'
import { writeFigures } from './writeFigures.ts'

/** The short table of `npm run read:made`: a row a kind, then by rate, then all together. */

const COLUMNS: readonly (readonly [keyof Summary, string, 'share' | 'percent' | 'count'])[] = [
  ['records', 'records', 'count'],
  ['eventF1', 'F1', 'share'],
  ['kindRight', 'kind', 'share'],
  ['endsRight', 'ends', 'share'],
  ['pullsRight', 'pulls', 'share'],
  ['peakErrorMedian', 'peak50%', 'percent'],
  ['peakErrorP95', 'peak95%', 'percent'],
  ['peakErrorP95Fast', 'fast95%', 'percent'],
  ['peakErrorP95Slow', 'slow95%', 'percent'],
  ['farOff', 'farOff', 'share'],
  ['peakCovered', 'covers', 'share'],
  ['peakWidthMedian', 'width%', 'percent'],
  ['statusRight', 'status', 'share'],
  ['zeroRight', 'zero', 'share'],
  ['falseAlarms', 'alarms', 'share'],
  ['inGap', 'inGap', 'count'],
  ['saysClipped', 'range', 'share'],
  ['saysZeroUnknown', 'noZero', 'share'],
  ['rezeroSaid', 'rezero', 'share'],
  ['spikesSaid', 'spikes', 'share'],
  ['gapsSaid', 'gaps', 'share'],
]

function cell(value: number | null, as: 'share' | 'percent' | 'count'): string {
  if (value === null) return '–'
  if (as === 'count') return String(value)
  return as === 'percent' ? (100 * value).toFixed(2) : value.toFixed(3)
}

function shortTable(scores: readonly Score[]): string {
  const rates = [...new Set(scores.map(s => nearestRate(s.rateHz)))].sort((a, b) => a - b)
  const groups: [string, readonly Score[]][] = [
    ...[...new Set(scores.map(s => s.family))].map((family): [string, Score[]] => [
      family,
      scores.filter(s => s.family === family),
    ]),
    ...rates.map((rate): [string, Score[]] => [
      `${rate}/s`,
      scores.filter(s => nearestRate(s.rateHz) === rate),
    ]),
    ['all', scores],
  ]
  const rows = groups.map(([name, of]) => {
    const sum = summarise(of)
    return [name, ...COLUMNS.map(([key, , as]) => cell(sum[key], as))]
  })
  const head = ['', ...COLUMNS.map(([, title]) => title)]
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map(r => r[i]!.length)))
  const line = (row: readonly string[]) =>
    row.map((c, i) => (i === 0 ? c.padEnd(widths[i]!) : c.padStart(widths[i]!))).join(' ')
  return [line(head), ...rows.map(line)].join('\n')
}

const nearestRate = (rateHz: number): number =>
  [5, 10, 20, 40, 80, 320, 1000].reduce((a, b) =>
    Math.abs(Math.log(b / rateHz)) < Math.abs(Math.log(a / rateHz)) ? b : a,
  )

/**
 * Options are words: `--seeds N`, `--first N`, `--kinds a,b`, `--notes`; `--into PAGE.md` writes the table there, and
 * `--real FOLDER` beside it the shares over labelled records.
 */
export function printMade(words: readonly string[]): void {
  const after = (name: string): string | undefined => {
    const at = words.indexOf(name)
    return at < 0 ? undefined : words[at + 1]
  }
  const asked = after('--kinds')?.split(',')
  const unknown = asked?.filter(name => !allKinds.some(kind => kind === name)) ?? []
  if (unknown.length > 0) {
    console.error(`no such kind: ${unknown.join(', ')}. There are: ${allKinds.join(', ')}`)
    process.exitCode = 2
    return
  }
  const scores: Score[] = []
  let makingMs = 0
  let readingMs = 0
  const which = {
    kinds: allKinds.filter(kind => !asked || asked.includes(kind)),
    seeds: Number(after('--seeds') ?? 5),
    firstSeed: Number(after('--first') ?? 1),
  }
  let fromMs = performance.now()
  for (const pull of madePulls(which)) {
    const madeMs = performance.now()
    scores.push(judged(pull))
    makingMs += madeMs - fromMs
    fromMs = performance.now()
    readingMs += fromMs - madeMs
  }
  if (words.includes('--notes')) console.log(`${faults(scores)}\n`)
  console.log(shortTable(scores))
  const page = after('--into')
  if (page !== undefined) writeFigures(page, scores, after('--real') ?? null)
  console.log(`made in ${(makingMs / 1000).toFixed(1)} s, read in ${(readingMs / 1000).toFixed(1)} s`)
}
