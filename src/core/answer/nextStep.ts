import { WORTH_SHARE } from '../statistics/compare/needMore.ts'
import { list } from '../statistics/compare/words.ts'
import type { ComparedPair } from '../statistics/document.ts'
import type { NextStep } from './document.ts'
import { isUnbroken } from './headline.ts'
import type { Compared, Standing } from './standing.ts'

/** More than these of each, and more than there are already, nobody pulls: the answer then lies elsewhere. */
const FEASIBLE = 20

/** The one thing to do now that a person with such a rig can do. */
export function nextStepOf(compared: Compared, standing: Standing): NextStep {
  const { groups, blocks, warnings } = compared
  const { order } = standing
  if (warnings.some(({ code }) => code === 'not-assigned'))
    return step('assign', 'Assign the specimens that have no variant: they are in no figure.')
  const apart = groups.flatMap(({ otherScale = [] }) => otherScale)
  if (apart.length > 0)
    return step(
      'name-rig',
      `Name the rig of ${list(apart.length > 3 ? [`the ${apart.length} on another scale`] : apart)}: ${apart.length === 1 ? 'it counts' : 'they count'} in no figure yet.`,
    )
  if (order.length === 0) return step('pull-first', 'Pull the first specimens.')
  if (groups.length === 1)
    return order[0]!.n < 3
      ? more(3 - order[0]!.n, `Pull ${3 - order[0]!.n} more, then something to compare with.`)
      : step('add-variant', 'Pull a second variant to compare it with.')
  const empty = groups.filter(({ n }) => n === 0)
  if (empty.length > 0) return step('pull-first', `Pull ${list(empty.slice(0, 3).map(({ name }) => name))}.`)
  if (blocks?.tied === false) return step('tie-blocks', `Pull one variant on every ${blocks.by}.`)
  if (order.every(isUnbroken))
    return step('reach-higher', 'Use a rig that reaches further: none of them broke.')
  if (!isAnswered(compared, standing)) return unsettled(compared)
  if (warnings.some(({ code }) => code === 'no-force'))
    return step(
      'check-scale',
      'Calibrate the rig and name it for these pulls: their numbers are no forces yet.',
    )
  return warnings.some(isScale) && compared.quantity !== 'partialBreaks'
    ? step('check-scale', 'Hang a known mass: the scale was not checked.')
    : step('tell', 'Tell it: nothing more is needed.')
}

const step = (kind: NextStep['kind'], text: string): NextStep => ({ kind, text, perGroup: null })
const more = (perGroup: number, text: string): NextStep => ({ kind: 'pull-more', text, perGroup })

const isScale = ({ code }: { readonly code: string }): boolean =>
  code === 'not-calibrated' || code === 'partly-calibrated'

/** Whether it is known which is best, or that the best are as good as each other. */
function isSettled({ order, beats, alike }: Standing): boolean {
  const best = order.filter(one => !order.some(other => beats(other.name, one.name)))
  return order.every(one =>
    best.includes(one)
      ? best.every(other => other === one || alike(other.name, one.name))
      : best.every(({ name }) => beats(name, one.name)),
  )
}

/** Against a control the question is each pair's own. */
const isAnswered = ({ family, pairs }: Compared, standing: Standing): boolean =>
  family.against ? pairs.every(({ verdict }) => verdict !== 'undecided') : isSettled(standing)

function unsettled(compared: Compared): NextStep {
  const { needMore, pairs, groups, warnings } = compared
  if (needMore === null) {
    const open = pairs.filter(({ verdict }) => verdict === 'undecided')
    if (
      warnings.some(({ code }) => code === 'no-scatter') &&
      pairs.some(({ decidedBy }) => decidedBy === null)
    )
      return step('finer-display', 'Read the force more finely: the values show no scatter.')
    if (open.some(({ detectable }) => detectable === null))
      return step('pull-more', 'Pull more of each: too few broke so to know their scatter.')
    return open.every(pair => wouldHaveShown(pair, compared))
      ? step('enough', 'Stop here: a difference that matters would have shown.')
      : LESS_SCATTER
  }
  const { perGroup, toSee, toSeePct } = needMore
  const fewest = Math.min(...groups.map(({ n }) => n))
  if (toSee === null) return more(perGroup, `Pull ${perGroup} more of each: so few cannot show a difference.`)
  if (perGroup <= Math.max(FEASIBLE, fewest))
    return more(
      perGroup,
      `Pull ${perGroup} more of each: ${toSeePct === null ? 'a difference that matters' : `${Math.round(toSeePct)} % apart`} would then show 8 times in 10.`,
    )
  return LESS_SCATTER
}

const LESS_SCATTER = step(
  'less-scatter',
  'To see a difference that matters takes very many more: make or grip them more alike.',
)

/** Could the pair have shown what is worth a difference? By the share of the mean that `needMore` goes by. */
function wouldHaveShown({ a, b, detectable }: ComparedPair, { groups, worthShare }: Compared): boolean {
  const meanOf = (name: string): number | null => {
    const group = groups.find(g => g.name === name)
    return group?.mean ?? group?.estimatedMean?.mean ?? null
  }
  const [first, second] = [meanOf(a), meanOf(b)]
  if (detectable === null || first === null || second === null) return false
  return detectable <= (worthShare ?? WORTH_SHARE) * Math.abs((first + second) / 2)
}
