import { mixedGroups } from '../statistics/compare/modes.ts'
import { list } from '../statistics/compare/words.ts'
import type { ComparedGroup } from '../statistics/document.ts'
import type { Answer } from './document.ts'
import type { Compared } from './standing.ts'

type Doubts = (compared: Compared) => readonly string[]

/** A variant with so few specimens hardly shows its scatter. */
const FEW = 3
/** Variants told one by one; more are counted. */
const MOST_NAMED = 3

/** What a reader must know before believing the answer: the gravest first, a line each, the whole of it in the warnings. */
export function doubtsOf(compared: Compared): Answer['doubts'] {
  const told = GRAVEST_FIRST.flatMap(([code, doubts]) => doubts(compared).map(text => ({ code, text })))
  const known = new Set([...GRAVEST_FIRST.map(([code]) => code), ...NO_DOUBTS])
  return [...told, ...compared.warnings.filter(({ code }) => !known.has(code)).map(firstSentence)]
}

/** Said by the headline itself, or of no weight for the answer. */
const NO_DOUBTS = ['one-group', 'units-differ', 'unequal-scatter', 'blocks-differ', 'shared-doubt']

const firstSentence = ({ code, text }: Answer['doubts'][number]): Answer['doubts'][number] => ({
  code,
  text: /^.*?[.](?=\s|$)/.exec(text)?.[0] ?? text,
})

/** The line where the comparison warns of it. */
const warned =
  (code: string, text: (compared: Compared) => string): Doubts =>
  compared =>
    compared.warnings.some(one => one.code === code) ? [text(compared)] : []

const GRAVEST_FIRST: readonly (readonly [string, Doubts])[] = [
  [
    'partly-calibrated',
    warned(
      'partly-calibrated',
      () => 'The scale was checked for some specimens only: differences may be the scale’s.',
    ),
  ],
  [
    'not-calibrated',
    warned('not-calibrated', ({ groups }) =>
      groups.length > 1
        ? 'The scale was not checked: all may be off alike, the ranking is not.'
        : 'The scale was not checked: the forces may be off.',
    ),
  ],
  ['over-range', warned('over-range', () => 'The cell was driven over its range.')],
  ['unit-assumed', warned('unit-assumed', () => 'The unit was taken for granted.')],
  ['zero-unknown', warned('zero-unknown', () => 'The zero was not seen in every recording.')],
  [
    'blocks-untied',
    warned('blocks-untied', ({ blocks }) => `No variant was pulled on more than one ${blocks?.by}.`),
  ],
  [
    'one-mode',
    warned(
      'one-mode',
      ({ mode }) => `Only failing by “${mode}” is compared: other failures count as having held.`,
    ),
  ],
  ['mixed-modes', mixedModes],
  [
    'modes-differ',
    warned('modes-differ', () => 'The variants fail in different ways: each shows its weakest part.'),
  ],
  [
    'at-least',
    compared =>
      perGroup(compared.groups, unbrokenOf(compared), 'did not break: they hold at least what was reached'),
  ],
  ['other-scale', ({ groups }) => perGroup(groups, apart, 'have no force yet and do not count')],
  ['not-recorded', ({ groups }) => perGroup(groups, lost, 'have no value and do not count')],
  [
    'order-trend',
    warned(
      'order-trend',
      ({ trend }) =>
        `Values ${(trend?.slope ?? 0) > 0 ? 'rise' : 'fall'} with the order of pulling: something drifts.`,
    ),
  ],
  ['few-specimens', few],
  ['no-scatter', warned('no-scatter', () => 'Some values are all the same: the display may be too coarse.')],
  [
    'outlier-suspect',
    ({ groups }) => {
      const names = groups.flatMap(({ outliers }) => outliers.map(({ specimen }) => specimen))
      return names.length === 0
        ? []
        : names.length > MOST_NAMED
          ? [`${names.length} specimens stand apart from their kind: look at their curves.`]
          : [`${list(names)} ${names.length === 1 ? 'stands' : 'stand'} apart: look at the curve.`]
    },
  ],
  [
    'doubt-not-small',
    warned('doubt-not-small', () => 'The doubt of a single value is not small beside the scatter.'),
  ],
  ['dropped', ({ groups }) => perGroup(groups, leftOut, 'were left out')],
  ['slow-sampling', warned('slow-sampling', () => 'Sampling was slow for the speed of loading.')],
]

/** `1 of 5 hot-melt failed otherwise: bag tore.` */
function mixedModes({ modes, mode }: Compared): string[] {
  // Said by what is said of the one way that is compared.
  if (typeof mode === 'string') return []
  const mixed = mixedGroups(modes)
  if (mixed.length > MOST_NAMED) return [`${mixed.length} variants failed in more than one way.`]
  return mixed.map(group => {
    const own = modes.filter(one => one.group === group)
    const all = own.reduce((sum, { n }) => sum + n, 0)
    const [, second, ...more] = own.filter(({ mode }) => mode !== null)
    return second !== undefined && more.length === 0
      ? `${second.n} of ${all} ${group} failed otherwise: ${second.mode}.`
      : `${group} failed in ${more.length + 2} ways.`
  })
}

/** Specimens that the rig could not break; those that failed in another way than the one compared did break. */
const unbrokenOf =
  ({ specimens }: Compared) =>
  ({ name, censored }: ComparedGroup): number =>
    censored - specimens.filter(s => s.group === name && s.failedOtherwise && s.dropped === null).length
const lost = ({ notRecorded }: ComparedGroup): number => notRecorded.length
const apart = ({ otherScale = [] }: ComparedGroup): number => otherScale.length
const leftOut = (group: ComparedGroup): number => group.dropped.length - apart(group)

/** `2 of 5 stitching did not break …`, in a line for each variant, or in one for many. */
function perGroup(
  groups: readonly ComparedGroup[],
  count: (group: ComparedGroup) => number,
  said: string,
): string[] {
  const found = groups.filter(group => count(group) > 0)
  const allOf = (group: ComparedGroup): number => group.n + lost(group) + group.dropped.length
  if (found.length <= MOST_NAMED)
    return found.map(
      group => `${count(group)} of ${allOf(group)} ${group.name} ${inNumber(said, count(group))}.`,
    )
  const n = found.reduce((sum, group) => sum + count(group), 0)
  const all = groups.reduce((sum, group) => sum + allOf(group), 0)
  return [`${n} of ${all} specimens ${said}.`]
}

const inNumber = (said: string, n: number): string =>
  n === 1
    ? said
        .replace('they hold', 'it holds')
        .replace(/^have/, 'has')
        .replace('and do not', 'and does not')
        .replace(/^were/, 'was')
    : said

function few({ groups }: Compared): string[] {
  const scarce = groups.filter(({ n }) => n > 0 && n <= FEW)
  if (scarce.length === 0) return []
  const most = Math.max(...scarce.map(({ n }) => n))
  const fewest = Math.min(...scarce.map(({ n }) => n))
  const many = fewest === most ? `${most}` : `${fewest} to ${most}`
  if (scarce.length === groups.length && groups.length > 1)
    return [`Only ${many} of each: their scatter is hardly known.`]
  return scarce.length > MOST_NAMED
    ? [`${scarce.length} variants have only ${many} specimens: their scatter is hardly known.`]
    : [`Only ${many} of ${list(scarce.map(({ name }) => name))}: the scatter is hardly known.`]
}
