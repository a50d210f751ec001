import { type Role, roleOf, type Standing, standingOf } from './roles.ts'
import {
  factoredForceUnitOf,
  isForeignForce,
  multipleForceUnitOf,
  type UnitMeaning,
  unitMeaning,
} from './units.ts'

/** What the name of a column says about it. */
export interface HeaderMeaning {
  readonly role: Role | null
  readonly standing: Standing
  readonly unit: UnitMeaning | null
  /** The unit as written, known or not; `''` where the name carries none. */
  readonly unitText: string
}

const BRACKETED = /[[({<]\s*([^[\](){}<>]*?)\s*[\])}>]/g
/** What brackets may hold that is no unit: a channel, a word of explanation. */
const NO_UNIT =
  /\d|^(?:n\/a|none|unknown|unit|units)$|^(?:ch|raw value|filtered|actual|set|abs|rel|tared?|net|gross|x|y|z|left|right)$/i

/**
 * What may be a unit with a factor or a number at the end of a name: `force x10N`, `force_N/10`, `cell 50kg`.
 */
const SCALED_END =
  /(?:^|[\s_])((?:[x×*]\s?)?\d+(?:[.,]\d+)?\s?[x×*]?\s?\p{L}{1,4}|\p{L}{1,4}\s?[/x×*]\s?\d+(?:[.,]\d+)?)\s*$/u

/**
 * Whether the text is a unit of force with a number before or after it, which may be a factor, a divisor or a
 * capacity.
 */
function isScaled(text: string): boolean {
  if (!/\d/.test(text)) return false
  const rest = text.replace(/\d+(?:[.,]\d+)?/g, ' ').replace(/(?:^|\s)[x×*·/]+(?=\s|$)|[*·/×]/g, ' ')
  return multipleForceUnitOf(rest.replace(/^\s*x\s*|\s*x\s*$/g, '').trim()) !== null
}

/** Units of a load on an area: what is in one of them is no force, whatever it is called. */
const OF_STRESS = /^(?:[kmg]?pa|ksi|psi|bar|mbar|(?:[kd]?a?n|kgf?)\/[cm]?m(?:2|²))$/i

/** The brackets of a name, the one that holds a known unit first, or else the first of all. */
function bracketOf(name: string): RegExpExecArray | null {
  const all = [...name.matchAll(BRACKETED)]
  return all.findLast(found => unitMeaning(found[1] ?? '') !== null) ?? all[0] ?? null
}

/** `timeMs`, `Force_kgf`, `t/ms`, `F in kN` → the words in them, case kept. */
const wordsOf = (text: string): string[] =>
  text
    .split(/[\s_.,:;/|=]+|-(?=\p{L})/u)
    // `kN` and `mN` are one word.
    .flatMap(word =>
      unitMeaning(word) === null ? word.replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2').split(' ') : [word],
    )
    .filter(word => word !== '')

/**
 * Reads a column's name, with a row of units below it where there is one. Columns without a name mean
 * nothing.
 */
export function headerMeaning(given: string, unitRow = ''): HeaderMeaning {
  const name = given.slice(0, 200)
  const bracket = bracketOf(name)
  const bare = bracket
    ? `${name.slice(0, bracket.index)} ${name.slice(bracket.index + bracket[0].length)}`
    : name
  const words = wordsOf(bare)
  const tokens = words.map(word => word.toLowerCase())
  const named = { role: roleOf(tokens), standing: standingOf(tokens) }

  for (const text of [unitRow, bracket?.[1] ?? '', SCALED_END.exec(bare)?.[1] ?? '']) {
    const unitText = text.replace(/^[[({<]+|[\])}>]+$/g, '')
    const factored = factoredForceUnitOf(text)
    if (factored !== null)
      return { ...named, role: named.role ?? 'force', unit: { of: 'force', ...factored }, unitText }
    if (isScaled(text)) return { ...named, role: named.role ?? 'force', unit: null, unitText }
  }
  for (const text of [unitRow, bracket?.[1] ?? '']) {
    const unit = unitMeaning(text)
    if (text === '' || (unit === null && NO_UNIT.test(text))) continue
    const unitText = text.replace(/^[[({<]+|[\])}>]+$/g, '')
    if (OF_STRESS.test(unitText.replace(/\s/g, '')))
      return { ...named, role: notForce(named.role), unit, unitText }
    return { ...withRoleOfUnit(named, unit), unit, unitText }
  }
  const foreign = words.findLast(isForeignForce)
  if (foreign !== undefined) return { ...named, unit: null, unitText: foreign }
  // The last word may be a unit: `force_kgf`, `t/ms`, `F in kN`, `mass g`; or the name is the unit: `kg`,
  // `ms`.
  const last = words.at(-1) ?? ''
  const unit = words.length > 1 || named.role !== 'time' || last.length > 1 ? unitMeaning(last) : null
  if (words.length > 1 && OF_STRESS.test(last))
    return { ...named, role: notForce(named.role), unit, unitText: last }
  if (unit !== null && !(words.length === 1 && isNameNotUnit(last))) {
    const role = words.length === 1 ? { ...named, role: named.role === 'force' ? named.role : null } : named
    return { ...withRoleOfUnit(role, unit), unit, unitText: last }
  }
  // `raw`, `counts` may lead: `raw_force`, `adc value`.
  const counts = tokens.some(token => ['raw', 'adc', 'counts', 'lsb'].includes(token))
  if (counts) {
    const raw = { of: 'force', unit: 'counts', times: 1 } as const
    return { ...named, role: named.role ?? 'force', unit: raw, unitText: 'counts' }
  }
  return { ...named, unit: null, unitText: '' }
}

const notForce = (role: Role | null): Role => (role === null || role === 'force' ? 'other' : role)

/**
 * A lone `t` is a time, a lone `n` a number of rows, a lone `w` a weight, a lone `in` or `m` nothing much.
 */
const isNameNotUnit = (word: string): boolean => /^(?:t|T|n|in|m|h|min|count|w|W|a|A|j|J)$/.test(word)

function withRoleOfUnit<T extends { readonly role: Role | null }>(named: T, unit: UnitMeaning | null): T {
  // `Time (%)`, `Temps [°C]`: whatever it is, it is no time.
  if (named.role === 'time' && unit?.of === 'other') return { ...named, role: 'other' }
  if (named.role !== null || unit === null) return named
  if (unit.of === 'force') return { ...named, role: 'force' }
  if (unit.of === 'time') return { ...named, role: 'time' }
  return unit.of === 'length' ? { ...named, role: 'travel' } : named
}
