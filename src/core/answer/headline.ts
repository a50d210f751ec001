import { list } from '../statistics/compare/words.ts'
import type { ComparedGroup } from '../statistics/document.ts'
import { headlineAgainst } from './againstControl.ts'
import { type Compared, type Standing, waitsForRig } from './standing.ts'
import { type Superlative, superlativeOf } from './superlative.ts'

/** Words of a headline at most: what is read in five seconds. */
export const MOST_WORDS = 12

/** The answer in a sentence: which is best, or that none can be told from another, or what is missing. */
export function headlineOf(compared: Compared, standing: Standing): string {
  return firstThatFits(sentencesOf(compared, standing))
}

/** The same said ever shorter; the last is short whatever the names are. */
function sentencesOf(compared: Compared, standing: Standing): string[] {
  const { groups, blocks } = compared
  const { order } = standing
  const [only] = order
  const words = superlativeOf(compared.quantity)
  if (only === undefined) return ['Nothing has been measured yet.']
  if (groups.length === 1) return alone(only)
  if (blocks?.tied === false)
    return [`No answer yet: the variants share no ${blocks.by}.`, 'No answer yet: nothing ties the variants.']
  if (order.length === 1 && groups.some(waitsForRig))
    return [
      `Only ${only.name} is measured in force: name the others’ rig.`,
      'Only one variant is measured in force: name the others’ rig.',
    ]
  if (order.length === 1)
    return [
      `Only ${only.name} was measured: nothing to compare it with.`,
      'Only one variant was measured yet.',
    ]
  if (order.every(isUnbroken)) return ['None broke: which holds most is not known.']
  if (isBlind(compared)) return [`Too few specimens to tell which ${words.one}.`]
  const { against = null } = compared.family
  return against === null
    ? byStanding(compared, standing, words)
    : headlineAgainst(against, compared, standing)
}

const alone = ({ name, n }: ComparedGroup): string[] =>
  n === 1
    ? [`One ${name} alone: too few to say anything.`, 'One specimen alone: too few to say anything.']
    : [
        `Only ${name} was pulled: nothing to compare it with.`,
        'Only one variant was pulled: nothing to compare.',
      ]

/** Every specimen of it outlasted the rig, the cell or the stroke. */
export const isUnbroken = ({ n, censored }: ComparedGroup): boolean => n > 0 && censored === n

/** No pair could be tested: one specimen of a kind shows no scatter. */
const isBlind = ({ pairs, groups }: Compared): boolean =>
  pairs.every(({ decidedBy }) => decidedBy === null) && groups.some(({ n }) => n === 1)

function byStanding(compared: Compared, { order, beats, alike }: Standing, words: Superlative): string[] {
  const best = order.filter(one => !order.some(other => beats(other.name, one.name)))
  const names = best.map(({ name }) => name)
  const [first] = names
  if (best.length === 1 && order.every(({ name }) => name === first || beats(first!, name)))
    return [`${capital(first!)} ${words.one}.`, `${clipped(first!)} ${words.one}.`]
  // Unbeaten and yet not better than all: the others that may be best come in.
  const open = order.filter(one => best.includes(one) || !names.every(name => beats(name, one.name)))
  const openNames = open.map(({ name }) => name)
  const areAlike = openNames.every(a => openNames.every(b => a === b || alike(a, b)))
  if (open.length === order.length)
    return areAlike
      ? [`${capital(list(openNames))} are as good as each other.`, 'All are as good as each other.']
      : noneBest(compared, openNames)
  if (areAlike)
    return [
      `${capital(list(openNames))} ${words.several}, as good as each other.`,
      `${openNames.length} variants ${words.several}, as good as each other.`,
    ]
  return [
    `${capital(either(openNames))} ${words.one}: which is not decided.`,
    `One of ${openNames.length} variants ${words.one}: which is not decided.`,
  ]
}

function noneBest({ overall, family }: Compared, names: readonly string[]): string[] {
  const p = (overall?.welch ?? overall?.kruskalWallis)?.p ?? 1
  if (names.length > 2 && p < family.level) return ['Not all are alike, but none can be told best.']
  return names.length === 2
    ? [`${capital(list(names))} cannot be told apart.`, 'The two cannot be told apart.']
    : ['None can be told from another.']
}

const either = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`

/** A plain word begins the sentence with a capital; what holds capitals or figures is a name and stays as it is. */
const capital = (text: string): string =>
  /^\p{Ll}[\p{Ll}'’-]*(?=[\s,]|$)/u.test(text) ? text.charAt(0).toUpperCase() + text.slice(1) : text

/** The first words of a long name. */
const clipped = (name: string): string => `${capital(name.trim().split(/\s+/).slice(0, 5).join(' '))} …`

export const wordsIn = (text: string): number => text.trim().split(/\s+/).length

const firstThatFits = (sentences: readonly string[]): string =>
  sentences.find(sentence => wordsIn(sentence) <= MOST_WORDS) ?? sentences.at(-1)!
