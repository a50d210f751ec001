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

/** A pull with its truth: rest, a rise to the peak, a fall, rest. Its peak lies in the second half for most. */
function pullOf(random: Random): {
  readonly timeS: number[]
  readonly forceN: number[]
  readonly peakN: number
} {
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
  return { timeS, forceN, peakN }
}

function styleOf(random: Random): Style {
  const delimiter = pick(random, DELIMITERS)
  const comma = delimiter !== ',' && random() < 0.4
  return { delimiter, comma, row: cells => cells.join(delimiter) }
}

const marked = (value: number, { comma }: Style): string =>
  comma ? String(value).replace('.', ',') : String(value)

/** What happens to the log in its midst. */
const CHANGES = [
  'none',
  'separator',
  'separator by line',
  'mark',
  'separator and mark',
  'keys',
  'words around',
  'a column more',
  'a column less',
  'order',
  'unit in the header',
  'unit in the cells',
  'wide text',
  'rows without force',
  'quoted',
  'blank columns before',
] as const
export type Change = (typeof CHANGES)[number]

export interface ChangedLog {
  readonly change: Change
  readonly bytes: Uint8Array
  readonly peakN: number
}

/** A log with a known peak whose layout changes at one of its rows. */
export function changedLog(random: Random): ChangedLog {
  const { timeS, forceN, peakN } = pullOf(random)
  const change = pick(random, CHANGES)
  const first = styleOf(random)
  const head = random() < 0.7 ? `${first.row(['time_s', 'force_N'])}\n` : ''
  const at = Math.floor(timeS.length * (0.2 + 0.6 * random()))
  const other = styleOf(random)
  const otherComma = { ...first, comma: !first.comma && first.delimiter !== ',' }
  const again = (unit: string, style: Style): string => `${style.row(['time_s', `force_${unit}`])}\n`
  let text = head
  for (const [i, t] of timeS.entries()) {
    const f = forceN[i]!
    const usual = first.row([marked(t, first), marked(f, first)])
    if (i < at || change === 'none') {
      text += `${usual}\n`
      continue
    }
    const lines: Readonly<Record<Change, () => string>> = {
      none: () => usual,
      separator: () => [marked(t, first), marked(f, first)].join(other.delimiter),
      'separator by line': () => [marked(t, first), marked(f, first)].join(pick(random, DELIMITERS)),
      mark: () => otherComma.row([marked(t, otherComma), marked(f, otherComma)]),
      'separator and mark': () => other.row([marked(t, other), marked(f, other)]),
      keys: () => `t=${t} f=${f}`,
      'words around': () => `ERR ${t} ${f} N`,
      'a column more': () => first.row([marked(t, first), '7', marked(f, first)]),
      'a column less': () => marked(f, first),
      order: () => first.row([marked(f, first), marked(t, first)]),
      'unit in the header': () =>
        `${i === at ? again('kN', first) : ''}${first.row([marked(t, first), marked(Number((f / 1000).toFixed(6)), first)])}`,
      'unit in the cells': () =>
        first.row([marked(t, first), `${marked(Number((f / 1000).toFixed(6)), first)} kN`]),
      'wide text': () => [...usual].join('\0'),
      'rows without force': () => first.row([marked(t, first), '']),
      quoted: () => first.row([`"${marked(t, first)}"`, `"${marked(f, first)}"`]),
      'blank columns before': () => first.row(['', '', marked(t, first), marked(f, first)]),
    }
    text += `${lines[change]()}\n`
  }
  return { change, bytes: new TextEncoder().encode(text), peakN }
}

/**
 * Reads as many changed logs and gives those that were wrong in silence: a greatest force that is not the true one, and
 * neither a problem nor a warning that names lines.
 */
export function readChanged(
  count: number,
  seed: number,
): { readonly silent: string[]; readonly right: number } {
  const random = randomOf(seed)
  const silent: string[] = []
  let right = 0
  for (let i = 0; i < count && silent.length < 10; i++) {
    const { change, bytes, peakN } = changedLog(random)
    const read = readLog(bytes, 'log.csv')
    if (!read.ok) continue
    const { forceN, forceUnit, assumptions } = read.value
    let greatest = Number.NEGATIVE_INFINITY
    for (const value of forceN) greatest = Math.max(greatest, value)
    const isRight = Math.abs(greatest - peakN) <= 1e-6 * peakN
    if (isRight) right++
    const isTold = assumptions.some(({ code, text }) => /line/.test(text) || code === 'contradiction')
    if (!isRight && !isTold)
      silent.push(
        `${change}: ${greatest / (forceUnit === null || forceUnit === 'counts' ? 1 : N_PER[forceUnit])} ${forceUnit} for ${peakN} N\n${new TextDecoder().decode(bytes).slice(0, 120)}`,
      )
  }
  return { silent, right }
}
