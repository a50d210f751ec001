import { answerIn } from '../../core/answer/answerOf.ts'
import {
  CHANCE_WORDS,
  differenceWords,
  FIGURE_HEADS,
  isNeverBelowZero,
  MOST_WORDS,
  mostHeads,
  notBelow,
  placeWords,
  type ShownIn,
  valueWords,
} from '../../core/answer/words.ts'
import { gravityOf } from '../../core/calibration/rigFacts.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { percent, pText, span, toldBound, withUnit } from '../../core/statistics/compare/words.ts'
import type { ComparedGroup, Comparison } from '../../core/statistics/document.ts'
import { N_PER } from '../../core/units/force.ts'
import { UNKNOWN_GRAVITY } from '../../core/units/gravity.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../core/units/showForce.ts'
import { NOT_FOR_RATING } from '../care.ts'
import { sayForce } from '../equivalents/equivalent.ts'
import { equivalentWords } from '../equivalents/words.ts'
import { studyFigure } from '../figure/studyFigure.ts'
import type { PublishedStudy } from '../study/study.ts'
import type { Block, FigureBlock, FoldedBlock, Report, Section, TableBlock } from './block.ts'

/** The unit that the figures of a comparison are told in, and how much of its own is one of it. */
const shownIn = ({ forceUnit }: PublishedStudy, { unit }: Comparison): ShownIn =>
  unit === 'N' ? { unit: forceUnit, per: N_PER[forceUnit] } : { unit, per: 1 }

/** The verdict, what it stands on, and what was not shown. */
export function answerSection(study: PublishedStudy): Section {
  const { comparison, notCompared } = study
  const section = (blocks: readonly Block[]): Section => ({ name: 'answer', heading: 'Answer', blocks })
  if (comparison === null)
    return section([{ kind: 'text', text: notCompared ?? 'There is no comparison yet.', tone: 'lead' }])
  const { notShown } = comparison
  return section([
    ...breath(study, comparison),
    groupTable(comparison, shownIn(study, comparison)),
    ...(notShown === null ? [] : [{ kind: 'text', text: notShown, tone: 'pencil' } as const]),
    everyPair(comparison, shownIn(study, comparison)),
  ])
}

/** The pairs as a table and the whole of the answer in sentences: for those who ask for it. */
function everyPair(comparison: Comparison, shown: ShownIn): FoldedBlock {
  const { pairs, verdict, inStatistics, needMore, warnings } = comparison
  return {
    kind: 'folded',
    heading: pairs.length === 0 ? 'The whole of it in words' : 'Every pair, and the whole of it in words',
    blocks: [
      ...(pairs.length === 0 ? [] : [pairTable(comparison, shown)]),
      { kind: 'text', text: verdict },
      ...warnings.map(({ text }) => ({ kind: 'text', text, tone: 'warning' }) as const),
      ...(needMore === null
        ? []
        : [
            {
              kind: 'text',
              text: `To see ${needMore.toSee === null ? 'anything at all' : `a difference of ${withUnit(threeDigits(needMore.toSee / shown.per), shown.unit)} 8 times in 10`}, pull ${needMore.perGroup} more of each, ${needMore.inAll} in all.`,
              tone: 'pencil',
            } as const,
          ]),
      { kind: 'text', text: `In statistics: ${inStatistics}`, tone: 'pencil' },
    ],
  }
}

/** Headline, ranking, doubts and next step, with the figure of the ranking. */
function breath(study: PublishedStudy, comparison: Comparison): Block[] {
  const shown = shownIn(study, comparison)
  const { headline, ranking, doubts, next } = answerIn(comparison)
  const neverBelow = isNeverBelowZero(comparison.quantity, comparison.specimens)
  return [
    { kind: 'text', text: headline, tone: 'lead' },
    {
      kind: 'list',
      items: ranking.map(({ name, place, value, noValue, difference }) =>
        [
          [placeWords(place), name, valueWords({ value, noValue }, shown, neverBelow)]
            .filter(text => text !== '')
            .join(' '),
          differenceWords(difference, shown),
        ]
          .filter(text => text !== '')
          .join('; '),
      ),
    },
    ...doubts.map(({ text }) => ({ kind: 'text', text, tone: 'warning' }) as const),
    { kind: 'text', text: `Next: ${next.text}` },
    ...figureOf(study, 'dots', 'Every specimen, with the mean of each variant and its 95 % interval'),
  ]
}

/** The answer on one page, to be shared by itself: what it says, one figure, what it does not show, and the care. */
export function answerPageOf(study: PublishedStudy): Report {
  const { comparison, notCompared, name, question, madeAt } = study
  const blocks: Block[] =
    comparison === null
      ? [{ kind: 'text', text: notCompared ?? 'There is no comparison yet.', tone: 'lead' }]
      : [
          ...breath(study, comparison),
          ...(comparison.notShown === null
            ? []
            : [{ kind: 'text', text: comparison.notShown, tone: 'pencil' } as const]),
          { kind: 'text', text: NOT_FOR_RATING, tone: 'pencil' },
        ]
  return {
    title: question === '' ? name : question,
    question: '',
    about: `${name}, ${madeAt.slice(0, 10)}.`,
    sections: [{ name: 'answer', heading: 'Answer', blocks }],
  }
}

const figure = (value: number | null, { per }: ShownIn, half: number | null = null): string => {
  if (value === null) return '–'
  return half === null || !(half > 0)
    ? threeDigits(value / per)
    : plainNumber(value / per, decimalsFor(half / per))
}

const oneLine = (head: readonly string[]): string => head.filter(line => line !== '').join(' ')

function groupTable(comparison: Comparison, shown: ShownIn): TableBlock {
  const { noun } = quantityWords(comparison.quantity)
  return {
    kind: 'table',
    caption: `The ${noun} of each variant${shown.unit === '' ? '' : ` in ${shown.unit}`}. Spread: how far one of them usually lies from the mean (standard deviation, sd). ${MOST_WORDS}`,
    head: [
      'variant',
      oneLine(FIGURE_HEADS.pulled),
      'mean',
      oneLine(FIGURE_HEADS.interval),
      oneLine(FIGURE_HEADS.spread),
      oneLine(FIGURE_HEADS.spreadShare),
      'least',
      'greatest',
      oneLine(mostHeads(comparison.quantity).of10),
    ],
    rows: comparison.groups.map(group =>
      groupRow(group, shown, isNeverBelowZero(comparison.quantity, comparison.specimens)),
    ),
  }
}

function groupRow(g: ComparedGroup, shown: ShownIn, neverBelow: boolean): string[] {
  const interval = g.ci95
  const half = interval === null ? null : (interval[1] - interval[0]) / 2
  const lost = g.notRecorded.length + g.dropped.length
  const bound = toldBound(g.lowerBounds.p90c95, g.min)
  return [
    g.name,
    `${g.n}${lost > 0 ? ` (+${lost} not counted)` : ''}`,
    g.mean === null && g.meanAtLeast !== null
      ? `at least ${figure(g.meanAtLeast, shown)}`
      : figure(g.mean, shown, half),
    interval === null ? '–' : spanIn(notBelow(interval, neverBelow), shown),
    figure(g.sd, shown, half),
    g.cv === null ? '–' : percent(g.cv),
    figure(g.min, shown, half),
    figure(g.max, shown, half),
    bound === 0 ? '0' : figure(bound, shown, half),
  ]
}

const spanIn = ([low, high]: readonly [number, number], { per }: ShownIn): string =>
  span([low / per, high / per], { unit: '', shown: null })

const VERDICTS = { different: 'differ', equivalent: 'as good', undecided: 'not decided' } as const

function pairTable(comparison: Comparison, shown: ShownIn): TableBlock {
  return {
    kind: 'table',
    caption: `Differences of means${shown.unit === '' ? '' : ` in ${shown.unit}`}; the intervals hold for all pairs together. ${CHANCE_WORDS}`,
    head: ['pair', 'difference', oneLine(FIGURE_HEADS.interval), oneLine(FIGURE_HEADS.chance), 'decided'],
    rows: comparison.pairs.map(pair => [
      `${pair.a} less ${pair.b}`,
      figure(pair.difference, shown, pair.ci95 === null ? null : (pair.ci95[1] - pair.ci95[0]) / 2),
      pair.ci95 === null ? '–' : spanIn(pair.ci95, shown),
      pair.pAdjusted === null ? '–' : pText(pair.pAdjusted).replace(/^p (= )?/, ''),
      VERDICTS[pair.verdict],
    ]),
  }
}

/** The means in the maker's own familiar weights; nothing where none is fair or none are given. */
export function equivalentsSection(study: PublishedStudy): Section | null {
  const { comparison, equivalents, rig } = study
  if (comparison === null || comparison.unit !== 'N' || equivalents.length === 0) return null
  const gravity = rig === null ? UNKNOWN_GRAVITY : gravityOf(rig)
  const items = comparison.groups.flatMap(({ name, mean, ci95, ci95WithDoubt }) => {
    const interval = ci95WithDoubt ?? ci95
    if (mean === null || interval === null) return []
    const words = equivalentWords(
      sayForce({ valueN: mean, lowN: interval[0], highN: interval[1] }, equivalents, gravity),
    )
    return words === null ? [] : [`${name}: on average ${words}.`]
  })
  if (items.length === 0) return null
  return { name: 'equivalents', heading: 'In familiar weights', blocks: [{ kind: 'list', items }] }
}

/** The curves over one another, and how the values scatter. */
export function figuresSection(study: PublishedStudy): Section | null {
  const fitted = study.comparison?.groups.some(group => group.weibull !== null) === true
  const blocks = [
    ...figureOf(
      study,
      'overlay',
      'The curves of all specimens that count, put together at the start of loading',
    ),
    ...(fitted
      ? figureOf(study, 'weibull', 'How the values scatter: a straight row speaks for a Weibull distribution')
      : []),
  ]
  return blocks.length === 0 ? null : { name: 'figures', heading: 'Curves and scatter', blocks }
}

/** A figure of the study as a block; none where what it shows is not there. */
export function figureOf(
  study: PublishedStudy,
  what: 'dots' | 'overlay' | 'weibull' | 'calibration' | 'check',
  caption: string,
): FigureBlock[] {
  const first = studyFigure(study, what)
  if (!first.ok) return []
  return [
    {
      kind: 'figure',
      name: what,
      caption,
      curve: null,
      draw({ look, shape }) {
        const drawn = studyFigure(study, what, { look, shape, withHeadline: false })
        return drawn.ok ? drawn.value : first.value
      },
    },
  ]
}
