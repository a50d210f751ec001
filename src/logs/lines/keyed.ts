/** Lines of the form `t=12.5 F=3.2N` or `Time: 0.1, Force: 2.3 kg`. */

const PAIR =
  /(?:^|[\s,;|>\])({])([\p{L}_][\p{L}\p{N}_#()[\]%°µ/.-]{0,30}(?: [\p{L}\p{N}_#()[\]%°µ/.-]{1,30})?)\s{0,3}[=:]\s{0,8}("[^"]*"|[+\-−]?\s{0,4}[.,]?\d(?:[\d.,:'’TZ-]*[\d.'’Z])?(?:[eE][+-]?\d+)?(?:\s{0,3}[\p{L}µ°%][\p{L}µ°%/]{0,11}(?![\p{L}\p{N}_]*\s{0,3}[=:]))?|[^\s,;|=:]+(?![^\s,;|=:]|\s{0,3}=))/gu

export interface KeyedLine {
  /** What stands before the first key: a stamp, or nothing. */
  readonly lead: string
  readonly pairs: readonly (readonly [key: string, value: string])[]
}

/**
 * What a system's journal sets before a line: a clock time after a day that lacks its year, then who wrote
 * the line.
 */
const JOURNAL_DAY = /^\p{L}{3} {1,2}\d{1,2} (?=\d{2}:\d{2}:\d{2})/u
const WRITER = /(\d:\d{2}\S*)\s+(?![ap]\.?m\b)[^\d\s+-].*$|(\d:\d{2}\S*)\s+[-–]\s.*$/iu
/** How grave a line is, as loggers write it before all else. */
const LEVEL = /^\[?(?:TRACE|DEBUG|INFO|NOTICE|WARN(?:ING)?|ERROR)\]?:?\s+/i
/** A letter for how grave a line is, the milliseconds since the board started, then who wrote it. */
const SINCE_START = /^[A-Z] \((\d+)\).*$/
/** Seconds since 1970 in brackets, then who wrote the line. */
const EPOCH = /^\[(\d{9,13}(?:\.\d+)?)\].*$/

/** `'force_N': 12.3`, `"f":12.3`: a name in quotes, as scripts print their tables of names and values. */
const QUOTED_KEY = /(['"])([\p{L}_][\p{L}\p{N}_ .-]{0,40})\1\s*:/gu
/** What only opens a list. */
const OPENING = /^[\s\-*]*[{([<]?$|\s*[{([]+$/

/** The pairs of a line, or `null` where it has none. */
export function keyedLine(given: string): KeyedLine | null {
  const line = /['"]\s*:/.test(given) ? given.replace(QUOTED_KEY, '$2:') : given
  const pairs: [string, string][] = []
  let lead = ''
  for (const found of line.matchAll(PAIR)) {
    if (pairs.length === 0)
      lead = line
        .slice(0, found.index)
        .replace(/[\s,;|]*(?:->|=>|→)?[\s,;|]*$/, '')
        .replace(OPENING, '')
    const value = (found[2] ?? '').replace(/^"|"$/g, '').replace(/[.,]+$/, '')
    pairs.push([(found[1] ?? '').trim(), value])
  }
  return pairs.length > 0 ? { lead: stampOf(lead.trim()), pairs } : null
}

const stampOf = (lead: string): string =>
  lead
    .replace(LEVEL, '')
    .replace(JOURNAL_DAY, '')
    .replace(WRITER, '$1$2')
    .replace(EPOCH, '$1')
    .replace(SINCE_START, '$1')
