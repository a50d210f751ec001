import type { ComparedGroup } from '../statistics/document.ts'
import type { RankedVariant } from './document.ts'
import { type Compared, middleOf, type Standing, waitsForRig } from './standing.ts'

/** A line for each variant, best first; those without a value stand last. */
export function rankingOf(compared: Compared, standing: Standing): RankedVariant[] {
  const { order } = standing
  const measured = order.map((group, i) => ({
    name: group.name,
    n: group.n,
    place: compared.blocks?.tied === false ? null : placeOf(group.name, standing),
    value: meanWithEnds(group),
    difference: differenceTo(group.name, order[i + 1]?.name, compared),
  }))
  const without = compared.groups.filter(group => group.n === 0)
  return [
    ...measured,
    ...without.map(group => ({
      name: group.name,
      n: group.n,
      place: null,
      value: null,
      ...(waitsForRig(group) ? { noValue: 'no force yet: its rig is not named' } : {}),
      difference: null,
    })),
  ]
}

/** Behind all that beat it, before all that it beats; one place shared where all that may have it are shown alike. */
function placeOf(name: string, standing: Standing): NonNullable<RankedVariant['place']> {
  const range = rangeOf(name, standing)
  const peers = standing.order.filter(({ name: other }) => other !== name && standing.alike(name, other))
  const isShared =
    peers.length > 0 &&
    peers.length === range.to - range.from &&
    peers.every(peer => sameRange(rangeOf(peer.name, standing), range)) &&
    peers.every(a => peers.every(b => a === b || standing.alike(a.name, b.name)))
  return isShared ? { from: range.from, to: range.from, shared: true } : { ...range, shared: false }
}

interface Range {
  readonly from: number
  readonly to: number
}

function rangeOf(name: string, { order, beats }: Standing): Range {
  const others = order.filter(other => other.name !== name)
  return {
    from: 1 + others.filter(other => beats(other.name, name)).length,
    to: order.length - others.filter(other => beats(name, other.name)).length,
  }
}

const sameRange = (a: Range, b: Range): boolean => a.from === b.from && a.to === b.to

function meanWithEnds(group: ComparedGroup): RankedVariant['value'] {
  const middle = middleOf(group)
  if (middle === null) return null
  if (group.mean === null && group.meanAtLeast !== null)
    return { middle, low: middle, high: null, atLeast: true }
  const interval = group.ci95
  return { middle, low: interval?.[0] ?? null, high: interval?.[1] ?? null, atLeast: false }
}

function differenceTo(
  name: string,
  next: string | undefined,
  { pairs, blocks }: Compared,
): RankedVariant['difference'] {
  if (next === undefined || blocks?.tied === false) return null
  const pair = pairs.find(({ a, b }) => (a === name && b === next) || (a === next && b === name))
  if (pair === undefined) return null
  const isFirst = pair.a === name
  const { difference: by, ci95 } = pair
  const { verdict } = pair
  const chance = pair.decidedBy === 'ranks' ? (pair.chance?.aBeatsB ?? null) : null
  return {
    to: next,
    verdict: verdict === 'different' ? 'more' : verdict === 'equivalent' ? 'as-good' : 'undecided',
    by: by === null ? null : isFirst ? by : 0 - by,
    low: ci95 === null ? null : isFirst ? ci95[0] : 0 - ci95[1],
    high: ci95 === null ? null : isFirst ? ci95[1] : 0 - ci95[0],
    chance: chance === null ? null : isFirst ? chance : 1 - chance,
  }
}
