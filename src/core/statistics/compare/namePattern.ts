import { fine, type Outcome, wrong } from '../../problem.ts'
import { FILE_ENDING, withoutEnding } from '../../withoutEnding.ts'

/** What the name of a file says of its specimen. */
export interface NamedParts {
  readonly variant: string
  /** Running number within the variant. */
  readonly n: string | null
  /** `a`, `b` … of a specimen in several logs. */
  readonly part: string | null
  readonly day: string | null
  readonly batch: string | null
  readonly operator: string | null
  readonly order: string | null
}

const FIELDS: Readonly<Record<string, string>> = {
  variant: '.+',
  n: '\\d+',
  part: '[a-z]?',
  day: '.+',
  batch: '.+',
  operator: '.+',
  order: '\\d+',
}

/** Used where nothing else says which variant a file is of; whoever uses it says so. */
export const DEFAULT_PATTERN = '{variant}-{n}{part}'

/**
 * A pattern of file names: `{variant}-{n}.csv`, `{day}_{variant}_{n}{part}.csv`, `*` for anything. Text stands for
 * itself, whatever its case; `{n}` and `{order}` are digits, `{part}` a letter or nothing, every other field the longest
 * text that fits. Without an ending the pattern is held against the name without its own.
 * Problems: a field that is not known or comes twice, no `{variant}`.
 */
export function namePattern(pattern: string): Outcome<(name: string) => NamedParts | null> {
  const fields = Array.from(pattern.matchAll(/\{([^{}]*)\}/g), match => match[1] ?? '')
  const unknown = fields.filter(field => !Object.hasOwn(FIELDS, field))
  const twice = fields.filter((field, i) => fields.indexOf(field) < i)
  const problem = (what: string) =>
    wrong({
      where: `pattern “${pattern}”`,
      what,
      cure: `Write the file name with fields in its place, as in {variant}-{n}.csv. Fields: ${Object.keys(
        FIELDS,
      )
        .map(field => `{${field}}`)
        .join(', ')}; * stands for anything.`,
    })
  if (unknown.length > 0) return problem(`“{${unknown[0]}}” is not a field.`)
  if (twice.length > 0) return problem(`“{${twice[0]}}” comes twice.`)
  if (!fields.includes('variant')) return problem('it has no {variant}.')
  const source = pattern
    .split(/(\{[^{}]*\}|\*)/)
    .map(piece => {
      if (piece === '*') return '.*'
      const field = /^\{(.*)\}$/.exec(piece)?.[1]
      return field === undefined
        ? piece.replace(/[\\^$.|?+()[\]{}]/g, '\\$&')
        : `(?<${field}>${FIELDS[field]})`
    })
    .join('')
  const whole = new RegExp(`^${source}$`, 'iu')
  const withEnding = FILE_ENDING.test(pattern)
  return fine(name => {
    const found = whole.exec(withEnding ? name : withoutEnding(name))?.groups
    if (!found?.variant) return null
    const { variant, n, part, day, batch, operator, order } = found
    return {
      variant,
      n: n ?? null,
      part: part || null,
      day: day ?? null,
      batch: batch ?? null,
      operator: operator ?? null,
      order: order ?? null,
    }
  })
}
