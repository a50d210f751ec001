import type { Score } from './score.ts'

/** Figures over many scored readings; `null` where nothing was judged. */
export type Summary = Readonly<Record<(typeof FIGURES)[number], number | null>>

const FIGURES = [
  'records',
  'peakErrorMedian',
  'peakErrorP95',
  'peakErrorP95Fast',
  'peakErrorP95Slow',
  'peakCovered',
  'peakWidthMedian',
  'farOff',
  'statusRight',
  'zeroRight',
  'inGap',
  'pullsRight',
  'endsRight',
  'laterErrorP90',
  'eventPrecision',
  'eventRecall',
  'eventF1',
  'kindRight',
  'elementsOff',
  'elementsIn',
  'elementsWidth',
  'elementsGiven',
  'falseAlarms',
  'saysClipped',
  'saysZeroUnknown',
  'spikesSaid',
  'gapsSaid',
  'rezeroSaid',
] as const

/** Quantile by linear interpolation between order statistics (type 7). */
export function quantile(values: readonly number[], q: number): number | null {
  if (values.length === 0) return null
  const sorted = [...values].sort((a, b) => a - b)
  const at = (sorted.length - 1) * q
  const below = Math.floor(at)
  const above = sorted[Math.min(below + 1, sorted.length - 1)]!
  return sorted[below]! + (at - below) * (above - sorted[below]!)
}

const numbers = (scores: readonly Score[], of: (s: Score) => unknown): number[] =>
  scores
    .flatMap(s => of(s))
    .filter(v => v !== null && v !== undefined)
    .map(Number)

const mean = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((a, b) => a + b, 0) / values.length

const ratio = (part: number, whole: number): number | null => (whole > 0 ? part / whole : null)

export function summarise(scores: readonly Score[]): Summary {
  const sum = (of: (s: Score) => number): number => scores.reduce((n, s) => n + of(s), 0)
  const found = sum(s => s.found)
  const missed = sum(s => s.missed)
  const invented = sum(s => s.invented)
  const errors = (fast: boolean) => numbers(scores, s => (s.fast === fast ? s.peakError : null))
  return {
    records: scores.length,
    peakErrorMedian: quantile(
      numbers(scores, s => s.peakError),
      0.5,
    ),
    peakErrorP95: quantile([...errors(true), ...errors(false)], 0.95),
    peakErrorP95Fast: quantile(errors(true), 0.95),
    peakErrorP95Slow: quantile(errors(false), 0.95),
    peakCovered: mean(numbers(scores, s => s.peakCovered)),
    peakWidthMedian: quantile(
      numbers(scores, s => s.peakWidth),
      0.5,
    ),
    farOff: mean(numbers(scores, s => s.farOff)),
    statusRight: mean(numbers(scores, s => s.statusRight)),
    zeroRight: mean(numbers(scores, s => s.zeroRight)),
    inGap: sum(s => s.inGap),
    pullsRight: mean(numbers(scores, s => s.pullsRight)),
    endsRight: mean(numbers(scores, s => s.endsRight)),
    laterErrorP90: quantile(
      numbers(scores, s => s.laterErrors),
      0.9,
    ),
    eventPrecision: ratio(found, found + invented),
    eventRecall: ratio(found, found + missed),
    eventF1: ratio(2 * found, 2 * found + invented + missed),
    kindRight: ratio(
      sum(s => s.kindRight),
      found,
    ),
    elementsOff: mean(numbers(scores, s => s.elementsOff)),
    elementsIn: mean(numbers(scores, s => s.elementsIn)),
    elementsWidth: mean(numbers(scores, s => s.elementsWidth)),
    elementsGiven: mean(numbers(scores, s => s.elementsGiven)),
    falseAlarms: mean(numbers(scores, s => s.falseAlarms)),
    saysClipped: mean(numbers(scores, s => s.saysClipped)),
    saysZeroUnknown: mean(numbers(scores, s => s.saysZeroUnknown)),
    spikesSaid: mean(numbers(scores, s => s.spikesSaid)),
    gapsSaid: mean(numbers(scores, s => s.gapsSaid)),
    rezeroSaid: mean(numbers(scores, s => s.rezeroSaid)),
  }
}

const shown = (value: number | null): string =>
  value === null ? '–' : Number.isInteger(value) ? String(value) : value.toFixed(4)

/** The figures by family, one line a family, and over all. */
export function table(scores: readonly Score[]): string {
  const families = [...new Set(scores.map(s => s.family))]
  const rows = [
    ...families.map(family => ({ family, of: summarise(scores.filter(s => s.family === family)) })),
    { family: 'ALL', of: summarise(scores) },
  ]
  const names = ['family', ...FIGURES]
  const cells = rows.map(r => [r.family, ...FIGURES.map(f => shown(r.of[f]))])
  const widths = names.map((n, i) => Math.max(n.length, ...cells.map(c => c[i]!.length)))
  const line = (row: readonly string[]) => row.map((c, i) => c.padStart(widths[i]!)).join(' ')
  return [line(names), ...cells.map(line)].join('\n')
}
