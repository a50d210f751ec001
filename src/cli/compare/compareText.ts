import { answerIn } from '../../core/answer/answerOf.ts'
import {
  CHANCE_WORDS,
  differenceWords,
  doubtedWords,
  FIGURE_HEADS,
  isNeverBelowZero,
  MOST_WORDS,
  mostHeads,
  notBelow,
  placeWords,
  valueWords,
} from '../../core/answer/words.ts'
import { printable } from '../../core/printable.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { percent, pText, type Scale, span, toldBound, withUnit } from '../../core/statistics/compare/words.ts'
import type { ComparedGroup, ComparedSpecimen, Comparison } from '../../core/statistics/document.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../core/units/showForce.ts'
import type { Io } from '../io.ts'
import { pen, wrapped } from '../terminal.ts'
import { aligned } from './columnsText.ts'

const VERDICTS = { different: 'differ', equivalent: 'as good', undecided: 'not decided' } as const

/** Specimens listed one by one up to this number of a group. */
const MOST_LISTED = 12
const MOST_PAIRS = 15

/** A comparison for people: the answer first, then the figures that it stands on. */
export function compareText(comparison: Comparison, shown: Scale['shown'], io: Io): string {
  const stroke = pen(io)
  const columns = Math.max(40, Math.min(io.columns, 100))
  const paragraph = (text: string, indent = '') => wrapped(printable(text, 4000), columns, indent)
  const { needMore, notShown, inStatistics, warnings } = comparison
  const { headline, doubts, next } = answerIn(comparison)
  const parts = [
    [
      stroke('strong', paragraph(headline)),
      rankingText(comparison, shown),
      ...doubts.map(({ text }) => stroke('warning', paragraph(text))),
      stroke('accent', paragraph(`Next: ${next.text}`)),
    ].join('\n'),
    paragraph(comparison.verdict),
    comparison.borrowed ? paragraph(comparison.borrowed.text) : '',
    (comparison.proof?.groups ?? []).map(({ text }) => paragraph(text)).join('\n'),
    groupTable(comparison, shown),
    specimenLists(comparison, shown, columns),
    comparison.pairs.length > 0 ? pairTable(comparison, shown) : '',
    [
      stroke('pencil', paragraph(`In statistics: ${inStatistics}`, '  ')),
      notShown === null ? '' : stroke('pencil', paragraph(notShown, '  ')),
      needMore === null ? '' : paragraph(needMoreText(needMore, { unit: comparison.unit, shown }), '  '),
    ]
      .filter(text => text !== '')
      .join('\n'),
    warnings.map(w => stroke('warning', paragraph(`! ${w.text}`, '  '))).join('\n'),
  ]
  return `${parts.filter(text => text !== '').join('\n\n')}\n`
}

/** A line for each variant: its place, its value with the doubt, how far it is ahead of the next. */
function rankingText(comparison: Comparison, shown: Scale['shown']): string {
  const { specimens, unit, quantity } = comparison
  const inUnit = shown ?? { unit, per: 1 }
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const rows = answerIn(comparison).ranking.map(({ name, place, value, noValue, difference }) => [
    placeWords(place),
    printable(name, 30),
    valueWords({ value, noValue }, inUnit, neverBelow),
    printable(differenceWords(difference, inUnit), 200),
  ])
  return aligned(rows, 'left')
}

const needMoreText = (
  { perGroup, inAll, toSee, toSeePct }: NonNullable<Comparison['needMore']>,
  scale: Scale,
): string =>
  toSee === null
    ? `To see anything at all: pull ${perGroup} more of each, ${inAll} in all.`
    : `To see a difference of ${withUnit(threeDigits(toSee / (scale.shown?.per ?? 1)), scale.shown?.unit ?? scale.unit)} (${threeDigits(toSeePct ?? 0)} %) 8 times in 10: pull ${perGroup} more of each, ${inAll} in all.`

/** One figure in the unit shown, without the unit: that stands in the head. */
function figure(value: number | null, shown: Scale['shown'], half: number | null = null): string {
  if (value === null) return '–'
  const per = shown?.per ?? 1
  return half === null || !(half > 0)
    ? threeDigits(value / per)
    : plainNumber(value / per, decimalsFor(half / per))
}

function groupTable(comparison: Comparison, shown: Scale['shown']): string {
  const { groups, unit, quantity } = comparison
  const own = shown?.unit ?? unit
  const rows = groups.map(g => groupRow(g, shown, comparison))
  const { of10, of100 } = mostHeads(quantity)
  const heads = twoLines([
    ['', ''],
    FIGURE_HEADS.pulled,
    ['mean', own === '' ? '' : `in ${own}`],
    FIGURE_HEADS.interval,
    FIGURE_HEADS.spread,
    FIGURE_HEADS.spreadShare,
    FIGURE_HEADS.middle,
    of10,
    of100,
  ])
  const newton = shown ? `; the document has ${unit}` : ''
  return `${quantityWords(quantity).noun}${own === '' ? '' : ` in ${own}`}${newton}. ${MOST_WORDS}\n${aligned([...heads, ...rows])}`
}

/** Heads in two lines as two rows. */
const twoLines = (heads: readonly (readonly [string, string])[]): string[][] => [
  heads.map(([first]) => first),
  heads.map(([, second]) => second),
]

function groupRow(
  g: ComparedGroup,
  shown: Scale['shown'],
  { specimens, quantity }: Pick<Comparison, 'specimens' | 'quantity'>,
): string[] {
  const half = g.ci95 === null ? null : (g.ci95[1] - g.ci95[0]) / 2
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const value = (v: number | null): string => figure(v, shown, half)
  // So few specimens that the bound is below nothing say nothing.
  const bound = (v: number | null): string => {
    const told = toldBound(v, g.min)
    return told === 0 ? '0' : value(told)
  }
  const lost = specimens.filter(s => s.group === g.name && (s.dropped !== null || s.value === null)).length
  return [
    printable(g.name, 30),
    `${g.n}${lost > 0 ? ` (+${lost})` : ''}`,
    g.mean === null && g.meanAtLeast !== null ? `≥ ${figure(g.meanAtLeast, shown)}` : value(g.mean),
    g.ci95 === null
      ? '–'
      : span(notBelow(g.ci95, neverBelow).map(v => v / (shown?.per ?? 1)) as [number, number], {
          unit: '',
          shown: null,
        }),
    value(g.sd),
    g.cv === null ? '–' : percent(g.cv),
    value(g.median),
    bound(g.lowerBounds.p90c95),
    bound(g.lowerBounds.p99c95),
  ]
}

function specimenLists(
  { groups, specimens, quantity }: Comparison,
  shown: Scale['shown'],
  columns: number,
): string {
  const neverBelow = isNeverBelowZero(quantity, specimens)
  return groups
    .map(g => {
      const own = specimens.filter(s => s.group === g.name)
      const listed = own.length > MOST_LISTED ? own.filter(isSpecial) : own
      if (listed.length === 0) return ''
      const texts = listed.map(s => `${printable(s.name, 30)} ${specimenText(s, shown, neverBelow)}`)
      const text = `${printable(g.name, 30)}: ${own.length > listed.length ? 'of note ' : ''}${texts.join(', ')}`
      return wrapped(text, columns, '  ')
    })
    .filter(text => text !== '')
    .join('\n')
}

const isSpecial = (s: ComparedSpecimen): boolean =>
  s.suspect !== null || s.dropped !== null || s.status !== 'measured'

function specimenText(s: ComparedSpecimen, shown: Scale['shown'], neverBelow: boolean): string {
  const { value: middle, low, high } = s
  const doubted =
    middle === null || low === null || high === null
      ? figure(middle, shown)
      : doubtedWords({ middle, low, high }, { unit: '', per: shown?.per ?? 1 }, neverBelow)
  const value =
    middle === null ? s.status.replace('-', ' ') : `${s.status === 'at-least' ? '≥ ' : ''}${doubted}`
  if (middle === null && s.dropped !== null) return `no value (${printable(s.dropped, 120)})`
  return `${value}${s.dropped === null ? '' : ` (dropped: ${printable(s.dropped)})`}${s.suspect === null ? '' : ' (stands apart)'}`
}

/** How often the first beats the second: of the pairings that there were, so that a few do not pass for a hundred. */
function chanceOf({ a, b, chance }: Comparison['pairs'][number], groups: Comparison['groups']): string {
  if (chance === null) return '–'
  const n = (name: string): number => groups.find(g => g.name === name)?.n ?? 0
  const pairings = n(a) * n(b)
  const won = chance.aBeatsB * pairings
  const isWhole = Math.abs(2 * won - Math.round(2 * won)) < 1e-6
  return pairings > 0 && pairings < 100 && isWhole
    ? `${plainNumber(won, Math.round(2 * won) % 2)} of ${pairings}`
    : `${plainNumber(chance.aBeatsB * 100, 0)} of 100`
}

function pairTable({ pairs, groups, unit }: Comparison, shown: Scale['shown']): string {
  const own = shown?.unit ?? unit
  const ordered = pairs.toSorted((x, y) => (x.pAdjusted ?? 2) - (y.pAdjusted ?? 2)).slice(0, MOST_PAIRS)
  const rows = ordered.map(p => {
    const { difference, ci95 } = p
    const half = ci95 === null ? null : (ci95[1] - ci95[0]) / 2
    return [
      `${printable(p.a, 30)} − ${printable(p.b, 30)}`,
      figure(difference, shown, half),
      ci95 === null
        ? '–'
        : span(ci95.map(v => v / (shown?.per ?? 1)) as [number, number], { unit: '', shown: null }),
      p.pAdjusted === null ? '–' : pText(p.pAdjusted).replace(/^p (= )?/, ''),
      chanceOf(p, groups),
      VERDICTS[p.verdict],
    ]
  })
  const heads = twoLines([
    ['', ''],
    ['difference', own === '' ? '' : `in ${own}`],
    FIGURE_HEADS.interval,
    FIGURE_HEADS.chance,
    ['first', 'beats second'],
    ['', ''],
  ])
  const more = pairs.length > rows.length ? `\n(${pairs.length - rows.length} more pairs: see --json)` : ''
  return `${CHANCE_WORDS}\n${aligned([...heads, ...rows])}${more}`
}
