import { N_PER } from '../../src/core/units/force.ts'
import { readLog } from '../../src/logs/index.ts'
import { randomOf } from './mutate.ts'

/** How one part of a log is written. */
interface Style {
  readonly delimiter: string
  readonly comma: boolean
  readonly row: (cells: readonly string[]) => string
}

const DELIMITERS = [',', ';', '\t', ' ', '|']

type Random = () => number
const pick = <T>(random: Random, all: readonly T[]): T => all[Math.floor(random() * all.length)]!

interface Pull {
  readonly timeS: number[]
  readonly forceN: number[]
  readonly peakN: number
  /** Row of the peak. */
  readonly peakAt: number
}

/**
 * A pull with its truth: rest, a rise to the peak, a fall, rest. Its peak lies in the second half for most.
 */
function pullOf(random: Random): Pull {
  const rows = 60 + Math.floor(random() * 120)
  const peakN = Math.round(1000 * (5 + random() * 400)) / 1000
  const peakAt = Math.floor(rows * (0.3 + 0.6 * random()))
  const stepS = pick(random, [0.01, 0.0125, 0.1, 0.25])
  const timeS = Array.from({ length: rows }, (_, i) => Number((i * stepS).toFixed(4)))
  const forceN = timeS.map((_, i) => {
    if (i < 10) return Number((random() * 0.02).toFixed(3))
    if (i === peakAt) return peakN
    if (i > peakAt) return Number((random() * 0.02).toFixed(3))
    return Number((((i - 10) / (peakAt - 10)) * peakN * (0.93 + 0.05 * random())).toFixed(3))
  })
  return { timeS, forceN, peakN, peakAt }
}

function styleOf(random: Random): Style {
  const delimiter = pick(random, DELIMITERS)
  const comma = delimiter !== ',' && random() < 0.4
  return { delimiter, comma, row: cells => cells.join(delimiter) }
}

const marked = (value: number, { comma }: Style): string =>
  comma ? String(value).replace('.', ',') : String(value)

/** One row of a log as it comes to be written after the change. */
interface Line {
  readonly i: number
  readonly t: number
  readonly f: number
  /** How it was written before. */
  readonly usual: string
  readonly isFirst: boolean
  readonly first: Style
  readonly other: Style
  readonly random: Random
  readonly peakAt: number
}

const kilo = (f: number): number => Number((f / 1000).toFixed(6))
const header = (names: readonly string[], { row }: Style): string => `${row(names)}\n`
const wide = (text: string, big: boolean): string => [...text].map(c => (big ? `\0${c}` : `${c}\0`)).join('')
const otherMark = (style: Style): Style => ({ ...style, comma: !style.comma && style.delimiter !== ',' })

/** What happens to the log in its midst: how each line is written from there on, its line end included. */
const CHANGES: Readonly<Record<string, (line: Line) => string>> = {
  none: ({ usual }) => `${usual}\n`,
  separator: ({ t, f, first, other }) => `${[marked(t, first), marked(f, first)].join(other.delimiter)}\n`,
  'separator by line': ({ t, f, first, random }) =>
    `${[marked(t, first), marked(f, first)].join(pick(random, DELIMITERS))}\n`,
  mark: ({ t, f, first }) => `${first.row([marked(t, otherMark(first)), marked(f, otherMark(first))])}\n`,
  'separator and mark': ({ t, f, other }) => `${other.row([marked(t, other), marked(f, other)])}\n`,
  keys: ({ t, f }) => `t=${t} f=${f}\n`,
  'words around': ({ t, f }) => `ERR ${t} ${f} N\n`,
  'a column more': ({ t, f, first }) => `${first.row([marked(t, first), '7', marked(f, first)])}\n`,
  'a column less': ({ f, first }) => `${marked(f, first)}\n`,
  order: ({ t, f, first }) => `${first.row([marked(f, first), marked(t, first)])}\n`,
  'unit in the header': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['time_s', 'force_kN'], first) : ''}${first.row([marked(t, first), marked(kilo(f), first)])}\n`,
  'unit in the cells': ({ t, f, first }) =>
    `${first.row([marked(t, first), `${marked(kilo(f), first)} kN`])}\n`,
  'wide text': ({ usual }) => `${[...usual].join('\0')}\n`,
  'rows without force': ({ t, first }) => `${first.row([marked(t, first), ''])}\n`,
  quoted: ({ t, f, first }) => `${first.row([`"${marked(t, first)}"`, `"${marked(f, first)}"`])}\n`,
  'blank columns before': ({ t, f, first }) => `${first.row(['', '', marked(t, first), marked(f, first)])}\n`,
  'a header of another separator and unit': ({ t, f, other, isFirst }) =>
    `${isFirst ? header(['time_s', 'force_kN'], other) : ''}${other.row([marked(t, other), marked(kilo(f), other)])}\n`,
  'a header of another order': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['force_N', 'time_s'], first) : ''}${first.row([marked(f, first), marked(t, first)])}\n`,
  'a header with a column more': ({ i, t, f, first, isFirst }) =>
    `${isFirst ? header(['time_s', 'temp_C', 'force_N'], first) : ''}${first.row([marked(t, first), String(20 + (i % 3)), marked(f, first)])}\n`,
  'a header in ms': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['time_ms', 'force_N'], first) : ''}${first.row([String(Math.round(t * 1e4) / 10), marked(f, first)].map(cell => (first.comma ? cell.replace('.', ',') : cell)))}\n`,
  'units in a row of their own': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['time', 'force'], first) + header(['s', 'kN'], first) : ''}${first.row([marked(t, first), marked(kilo(f), first)])}\n`,
  'started anew with comma marks': ({ t, f, isFirst }) =>
    `${isFirst ? 'boot\ntime_s;force_N\n' : ''}${`${t};${f}`.replaceAll('.', ',')}\n`,
  'milliseconds in silence': ({ t, f, first }) =>
    `${first.row([marked(Math.round(t * 1000), first), marked(f, first)])}\n`,
  'a clock for the time': ({ t, f, first }) =>
    `${first.row([`12:00:${t.toFixed(3).padStart(6, '0')}`, marked(f, first)])}\n`,
  'zero bytes between': ({ usual }) => `${usual}\0\0\0\n`,
  'a block of zero bytes': ({ usual, isFirst }) => `${isFirst ? '\0'.repeat(512) : ''}${usual}\n`,
  'UTF-16, little end first': ({ usual }) => wide(`${usual}\n`, false),
  'UTF-16, big end first': ({ usual }) => wide(`${usual}\n`, true),
  'two rows a line': ({ i, usual, first }) => `${usual}${i % 2 === 0 ? first.delimiter : '\n'}`,
  'all in one line': ({ usual, first }) => `${usual}${first.delimiter}`,
  'rows run together': ({ i, usual }) => `${usual}${i % 3 === 0 ? '' : '\n'}`,
  'lines broken in two': ({ t, f, first }) => `${marked(t, first)}${first.delimiter}\n${marked(f, first)}\n`,
  'lines cut': ({ i, usual, peakAt, random }) =>
    `${i === peakAt ? usual : usual.slice(0, Math.floor(random() * usual.length))}\n`,
  'carriage returns': ({ usual }) => `${usual}\r`,
  'a header in mN, thousands marked': ({ t, f, isFirst }) =>
    `${isFirst ? 'time_s;force_mN\n' : ''}${String(t).replace('.', ',')};${(f * 1000).toFixed(0).replace(/\B(?=(\d{3})+$)/g, '.')}\n`,
  'with a prompt': ({ usual }) => `> ${usual}\n`,
  'with a stamp before': ({ i, usual }) => `[12:00:${String(i % 60).padStart(2, '0')}] ${usual}\n`,
  'in brackets': ({ usual }) => `[${usual}]\n`,
  'with a check sum': ({ usual, first, i }) => `${usual}${first.delimiter}*${(i * 37).toString(16)}\n`,
  'with a unit behind each': ({ t, f, first }) =>
    `${first.row([`${marked(t, first)} s`, `${marked(f, first)} N`])}\n`,
  exponents: ({ t, f, first }) =>
    `${first.row([t.toExponential(6), f.toExponential(6)].map(cell => (first.comma ? cell.replace('.', ',') : cell)))}\n`,
  'behind a comment mark': ({ usual, random }) => `${pick(random, ['#', '# ', '; ', '// ', '%'])}${usual}\n`,
  'with plus signs': ({ t, f, first }) => `${first.row([`+${marked(t, first)}`, `+${marked(f, first)}`])}\n`,
  'a row of units alone': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['s', 'kN'], first) : ''}${first.row([marked(t, first), marked(kilo(f), first)])}\n`,
  'a header in minutes': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['time_min', 'force_N'], first) : ''}${first.row([marked(Number((t / 60).toFixed(7)), first), marked(f, first)])}\n`,
  'a header in per cent': ({ t, f, first, isFirst }) =>
    `${isFirst ? header(['time_s', 'force_%'], first) : ''}${first.row([marked(t, first), marked(Number((f / 5).toFixed(4)), first)])}\n`,
  'a header with the travel between': ({ i, t, f, first, isFirst }) =>
    `${isFirst ? header(['time_s', 'travel_mm', 'force_N'], first) : ''}${first.row([marked(t, first), marked(i / 8, first), marked(f, first)])}\n`,
  'objects, one a line': ({ t, f }) => `{"time_s":${t},"force_N":${f}}\n`,
  'objects in kN': ({ t, f }) => `{"t":${t},"f_kN":${kilo(f)}}\n`,
  'full-width digits': ({ usual }) =>
    `${usual.replace(/\d/g, digit => String.fromCharCode(digit.charCodeAt(0) + 0xfee0))}\n`,
  'whole lines in quotes': ({ usual }) => `"${usual}"\n`,
  'the number of the row first': ({ i, t, f, first }) =>
    `${first.row([String(i), marked(t, first), marked(f, first)])}\n`,
  'each row twice': ({ usual }) => `${usual}\n${usual}\n`,
  'the force twice': ({ t, f, first }) =>
    `${first.row([marked(t, first), marked(f, first), marked(f, first)])}\n`,
  'padded with blanks': ({ t, f, first }) =>
    `${first.row([marked(t, first).padStart(10), marked(f, first).padStart(12)])}\n`,
  'since 1970 in silence': ({ t, f, first }) =>
    `${first.row([marked(Number((1.7e9 + t).toFixed(4)), first), marked(f, first)])}\n`,
  'a mark of bytes before each line': ({ usual }) => `\ufeff${usual}\n`,
  'ended with a backslash': ({ usual }) => `${usual}\\\n`,
  'the mark of a decimal left out': ({ t, f, first }) =>
    `${first.row([marked(t, first), f.toFixed(3).replace('.', '')])}\n`,
  'ended with a semicolon': ({ usual }) => `${usual};\n`,
  'zeros before': ({ t, f, first }) =>
    `${first.row([marked(t, first).padStart(9, '0'), marked(f, first).padStart(9, '0')])}\n`,
  'as fractions of hours by its clock': ({ t, f, first }) =>
    `${first.row([`00:00:${t.toFixed(4).padStart(7, '0')}`, marked(f, first)])}\n`,
  'in pounds by its cells': ({ t, f, first }) =>
    `${first.row([marked(t, first), `${marked(Number((f / N_PER.lbf).toFixed(6)), first)} lbf`])}\n`,
}

export interface ChangedLog {
  readonly change: string
  readonly bytes: Uint8Array
  readonly peakN: number
  /** Of all its rows, in s. */
  readonly spanS: number
}

/** A log with a known peak whose layout changes at one of its rows. */
export function changedLog(random: Random): ChangedLog {
  const { timeS, forceN, peakN, peakAt } = pullOf(random)
  const change = pick(random, Object.keys(CHANGES))
  const first = styleOf(random)
  const other = styleOf(random)
  const at = Math.floor(timeS.length * (0.2 + 0.6 * random()))
  let text = random() < 0.7 ? header(['time_s', 'force_N'], first) : ''
  for (const [i, t] of timeS.entries()) {
    const f = forceN[i]!
    const usual = first.row([marked(t, first), marked(f, first)])
    text +=
      i < at
        ? `${usual}\n`
        : CHANGES[change]!({ i, t, f, usual, isFirst: i === at, first, other, random, peakAt })
  }
  return { change, bytes: new TextEncoder().encode(text), peakN, spanS: timeS.at(-1)! }
}

/**
 * Reads as many changed logs and gives those that were wrong in silence: a greatest force that is not the
 * true one, or a time that is not, and neither a problem nor a warning that names lines.
 */
export function readChanged(
  count: number,
  seed: number,
): { readonly silent: string[]; readonly right: number } {
  const random = randomOf(seed)
  const silent: string[] = []
  let right = 0
  for (let i = 0; i < count && silent.length < 10; i++) {
    const { change, bytes, peakN, spanS } = changedLog(random)
    const read = readLog(bytes, 'log.csv')
    if (!read.ok) continue
    const { forceN, forceUnit, timeS, assumptions } = read.value
    let greatest = Number.NEGATIVE_INFINITY
    for (const value of forceN) greatest = Math.max(greatest, value)
    const isPeak = Math.abs(greatest - peakN) <= 1e-6 * peakN
    const isTime = Math.abs((timeS.at(-1) ?? 0) - (timeS[0] ?? 0) - spanS) <= 0.1 * spanS
    if (isPeak && isTime) right++
    const isTold = assumptions.some(
      ({ code, text }) => /line/.test(text) || code === 'contradiction' || code === 'time-doubtful',
    )
    if ((!isPeak || !isTime) && !isTold)
      silent.push(
        `${change}: ${greatest / (forceUnit === null || forceUnit === 'counts' ? 1 : N_PER[forceUnit])} ${forceUnit} for ${peakN} N, ${timeS.at(-1)} s for ${spanS} s\n${new TextDecoder().decode(bytes).slice(0, 120)}`,
      )
  }
  return { silent, right }
}
