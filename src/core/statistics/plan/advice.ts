import { welch } from '../compare/welch.ts'
import { tTwoSided } from '../distributions/t.ts'
import { variance } from '../group/moments.ts'
import { nominalLevels } from './boundaries.ts'

/** What to do after the pulls so far, for one pair of variants. */
export interface PairAdvice {
  readonly a: string
  readonly b: string
  readonly nA: number
  readonly nB: number
  readonly p: number | null
  /** The p that counts as seen at this look, corrected for looking again and again. */
  readonly limit: number | null
  readonly state: 'too-few' | 'seen' | 'go-on' | 'hardly' | 'done'
  /** Pulls that would settle it if they fall like those so far; 0 where nothing more is needed. */
  readonly moreA: number
  readonly moreB: number
  readonly text: string
}

export interface PulledValue {
  readonly variant: string
  readonly value: number
}

/**
 * Advice after each pull. `pulled` in the order of pulling, `perGroup` as planned. Every pull that leaves at least two
 * of each is one look at the pair; the limit of each look comes from {@link nominalLevels}, at α shared over the pairs
 * (Bonferroni), so that looking after every pull raises no false alarm.
 */
export function adviceSoFar(
  pulled: readonly PulledValue[],
  { perGroup, alpha = 0.05 }: { perGroup: number; alpha?: number },
): PairAdvice[] {
  const variants = [...new Set(pulled.map(p => p.variant))]
  const pairCount = (variants.length * (variants.length - 1)) / 2
  return variants.flatMap((a, i) =>
    variants.slice(i + 1).map(b => pairAdvice(pulled, a, b, perGroup, alpha / pairCount)),
  )
}

function pairAdvice(
  pulled: readonly PulledValue[],
  a: string,
  b: string,
  perGroup: number,
  alpha: number,
): PairAdvice {
  const own = pulled.filter(p => p.variant === a || p.variant === b)
  const x = valuesOf(own, a)
  const y = valuesOf(own, b)
  const base = { a, b, nA: x.length, nB: y.length }
  const looks = looksOf(own, a, perGroup)
  const test = welch(x, y)
  if (looks.length === 0 || test === null) {
    const text = `${a} and ${b}: two of each at least, before anything can be told`
    return {
      ...base,
      p: null,
      limit: null,
      state: 'too-few',
      moreA: Math.max(0, 2 - x.length),
      moreB: Math.max(0, 2 - y.length),
      text,
    }
  }
  const limit = nominalLevels(looks, alpha).at(-1)!
  const known = { ...base, p: test.p, limit }
  if (test.p <= limit) {
    const [more, less] = test.difference > 0 ? [a, b] : [b, a]
    return {
      ...known,
      state: 'seen',
      moreA: 0,
      moreB: 0,
      text: `${more} beats ${less}: settled, no more of these two are needed`,
    }
  }
  if (looks.at(-1)! >= 1)
    return {
      ...known,
      state: 'done',
      moreA: 0,
      moreB: 0,
      text: `${a} and ${b}: all planned pulls are made and no difference is seen`,
    }
  const more = projected(x, y, looks, perGroup, alpha)
  if (!more)
    return {
      ...known,
      state: 'hardly',
      moreA: Math.max(0, perGroup - x.length),
      moreB: Math.max(0, perGroup - y.length),
      text: `${a} and ${b}: if the rest falls like the pulls so far, the plan will not part them`,
    }
  return {
    ...known,
    state: 'go-on',
    moreA: more[0],
    moreB: more[1],
    text: `${moreText(more, a, b)} would settle ${a} against ${b}, if they fall like those so far`,
  }
}

const valuesOf = (pulled: readonly PulledValue[], variant: string): Float64Array =>
  Float64Array.from(pulled.flatMap(p => (p.variant === variant ? [p.value] : [])))

/** Share of the planned information after each pull that leaves two of each or more; never over 1, each share once. */
function looksOf(own: readonly PulledValue[], a: string, perGroup: number): number[] {
  const shares: number[] = []
  let nA = 0
  let nB = 0
  for (const { variant } of own) {
    if (variant === a) nA++
    else nB++
    const share = informationShare(nA, nB, perGroup)
    if (nA >= 2 && nB >= 2 && share > (shares.at(-1) ?? 0)) shares.push(share)
  }
  return shares
}

/** 1/(1/nA + 1/nB) against that of the plan, perGroup/2. */
const informationShare = (nA: number, nB: number, perGroup: number): number =>
  Math.min(1, 2 / (1 / nA + 1 / nB) / perGroup)

/** The fewest further pulls, each given to the group that has fewer, after which the same difference would be seen. */
function projected(
  x: Float64Array,
  y: Float64Array,
  looks: readonly number[],
  perGroup: number,
  alpha: number,
): [number, number] | null {
  const difference = Math.abs(welch(x, y)!.difference)
  const [varA, varB] = [variance(x), variance(y)]
  let [nA, nB] = [x.length, y.length]
  while (Math.min(nA, nB) < perGroup) {
    if (nA <= nB) nA++
    else nB++
    const [partA, partB] = [varA / nA, varB / nB]
    const df = (partA + partB) ** 2 / (partA ** 2 / (nA - 1) + partB ** 2 / (nB - 1))
    const p = tTwoSided(difference / Math.sqrt(partA + partB), df)
    const share = informationShare(nA, nB, perGroup)
    if (share <= looks.at(-1)!) continue
    if (p <= nominalLevels([...looks, share], alpha).at(-1)!) return [nA - x.length, nB - y.length]
  }
  return null
}

function moreText([moreA, moreB]: [number, number], a: string, b: string): string {
  const parts = [
    ...(moreA > 0 ? [`${moreA} more of ${a}`] : []),
    ...(moreB > 0 ? [`${moreB} more of ${b}`] : []),
  ]
  return parts.join(' and ')
}
