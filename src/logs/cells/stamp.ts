/**
 * Clock times and dates in cells. Only differences matter to a recording, so time zones are applied but never
 * asked for.
 */

const CLOCK = /^(\d{1,3}):(\d{2})(?::(\d{2}))?(?:[.,:](\d{1,9}))?\s*([ap])?(?:\.?m\.?)?$/i
const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})\.?$/
const YEAR_LAST = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})$/
const COMPACT = /^(19|20)(\d{2})(\d{2})(\d{2})$/
const EAST_ASIAN = /^(\d{4})年(\d{1,2})月(\d{1,2})日$/
const MONTH_NAMED = /^(\d{1,2})[- .]([a-z]{3})[a-z]*\.?[- .](\d{4})$/i
const ZONE = /(?:\s*(?:z|utc|gmt)|\s?([+-])(\d{2}):?(\d{2}))$/i
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

const unbracketed = (text: string): string => text.replace(/^[[(]\s*|\s*[\])]:?$/g, '')

/** Seconds since midnight (or since any zero: `mm:ss.sss` is minutes and seconds), or `null`. */
export function parseClock(text: string): number | null {
  const found = CLOCK.exec(unbracketed(text))
  if (!found) return null
  const [, first = '', second = '', third, fraction = '', half] = found
  const part = Number(`0.${fraction || '0'}`)
  if (third === undefined) {
    return Number(second) < 60 ? Number(first) * 60 + Number(second) + part : null
  }
  if (Number(second) > 59 || Number(third) > 60) return null
  let hours = Number(first)
  if (half !== undefined) {
    if (hours < 1 || hours > 12) return null
    hours = (hours % 12) + (half.toLowerCase() === 'p' ? 12 : 0)
  }
  return hours * 3600 + Number(second) * 60 + Number(third) + part
}

const utcS = (year: number, month: number, day: number): number | null => {
  if (month < 1 || month > 12 || day < 1 || day > 31) return null
  return Date.UTC(year, month - 1, day) / 1000
}

/**
 * Seconds of midnight of the date, or `null`. `monthFirst` settles `05/06/2026`, which alone does not say.
 */
export function parseDate(text: string, monthFirst = false): number | null {
  const bare = unbracketed(text)
  const iso = YEAR_FIRST.exec(bare)
  if (iso) return utcS(Number(iso[1]), Number(iso[3]), Number(iso[4]))
  const last = YEAR_LAST.exec(bare)
  if (last) {
    const [, a = '', mark, b = '', y = ''] = last
    const year = y.length === 2 ? 2000 + Number(y) : Number(y)
    const monthLeads = mark !== '.' && monthFirst
    return monthLeads ? utcS(year, Number(a), Number(b)) : utcS(year, Number(b), Number(a))
  }
  const east = EAST_ASIAN.exec(bare)
  if (east) return utcS(Number(east[1]), Number(east[2]), Number(east[3]))
  const named = MONTH_NAMED.exec(bare)
  if (named) {
    return utcS(Number(named[3]), MONTHS.indexOf((named[2] ?? '').toLowerCase()) + 1, Number(named[1]))
  }
  const compact = COMPACT.exec(bare)
  if (compact) return utcS(Number(`${compact[1]}${compact[2]}`), Number(compact[3]), Number(compact[4]))
  return null
}

/**
 * Seconds of a date and clock time in one cell (`2026-05-01T12:01:03.250Z`, `01.05.2026 12:01:03,250`), or
 * `null`.
 */
export function parseDateTime(text: string, monthFirst = false): number | null {
  const bare = unbracketed(text)
  const cut = bare.search(/[T_]\d|[ ,]+\d{1,2}:|-\d{1,2}:\d{2}:/)
  if (cut < 6) return null
  const date = parseDate(bare.slice(0, cut), monthFirst)
  if (date === null) return null
  let rest = bare.slice(cut).replace(/^[T_, -]+/, '')
  let zoneS = 0
  const zone = ZONE.exec(rest)
  if (zone) {
    rest = rest.slice(0, zone.index)
    zoneS = (zone[1] === '-' ? -1 : 1) * (Number(zone[2] ?? 0) * 3600 + Number(zone[3] ?? 0) * 60)
  }
  const compact = /^(\d{2})(\d{2})(\d{2})(?:[.,](\d+))?$/.exec(rest)
  const clock = parseClock(
    compact ? `${compact[1]}:${compact[2]}:${compact[3]}.${compact[4] ?? '0'}` : rest.trim(),
  )
  return clock === null ? null : date + clock - zoneS
}

/**
 * Whether slashed dates put the month first, told from a sample of them: the part that passes 12 or changes
 * is the day.
 */
export function monthLeads(dates: readonly string[]): boolean {
  const firsts = new Set<string>()
  const seconds = new Set<string>()
  for (const date of dates) {
    const found = /^[[(]?(\d{1,2})[-/](\d{1,2})[-/]\d{2,4}/.exec(date)
    if (!found) continue
    firsts.add(found[1] ?? '')
    seconds.add(found[2] ?? '')
  }
  if ([...firsts].some(day => Number(day) > 12)) return false
  if ([...seconds].some(day => Number(day) > 12)) return true
  return seconds.size > firsts.size
}
