import type { Remark } from '../journal/entries.ts'

/** Different lines of a kind that are kept word for word; of all others only their number is. */
const MOST_LINES: Partial<Record<Remark['kind'], number>> = { garbled: 20 }
const MOST_OTHERS = 500
/** From the first telling of how often a line has come to the next; doubled each time. */
const TELL_AFTER_S = 10

/**
 * Keeps a device that chatters from filling journal and screen: a line that comes again is counted, and how
 * often it came is told (`× 743,112`) at longer and longer intervals and at the end. Samples have nothing to
 * do with it.
 */
export interface FloodGate {
  /** What is to be kept of a remark now: itself, or nothing. */
  take(remark: Remark): Remark | null
  /** What is due to be told of the lines that came again. */
  due(nowS: number): Remark[]
  /** All that was not told yet. */
  rest(nowS: number): Remark[]
  /** A recording begins: what is said again is kept again. */
  restart(): void
}

interface Line {
  readonly remark: Remark
  all: number
  told: number
  tellAtS: number
  everyS: number
}

export function floodGate(): FloodGate {
  const lines = new Map<string, Line>()
  const others = new Map<Remark['kind'], Line>()
  const kept = new Map<Remark['kind'], number>()

  const count = (line: Line, { atS }: Remark): null => {
    if (line.all === line.told) line.tellAtS = atS + line.everyS
    line.all++
    return null
  }
  const begun = (remark: Remark, all: number): Line => ({
    remark,
    all,
    told: all,
    tellAtS: remark.atS + TELL_AFTER_S,
    everyS: TELL_AFTER_S,
  })
  const told = (line: Line, nowS: number, text: string): Remark => {
    const since = line.all - line.told
    line.told = line.all
    line.everyS *= 2
    return { ...line.remark, atS: nowS, text, count: since }
  }
  const tell = (nowS: number, isDue: (line: Line) => boolean): Remark[] => {
    const found: Remark[] = []
    for (const line of lines.values())
      if (line.all > line.told && isDue(line))
        found.push(told(line, nowS, `${line.remark.text} × ${counted(line.all)}`))
    for (const line of others.values())
      if (line.all > line.told && isDue(line))
        found.push(told(line, nowS, `${counted(line.all)} more ${WORDS[line.remark.kind] ?? 'lines'}`))
    return found
  }
  return {
    take(remark) {
      const { kind, text } = remark
      const key = `${kind} ${text}`
      const known = lines.get(key)
      if (known) return count(known, remark)
      const soFar = kept.get(kind) ?? 0
      if (soFar >= (MOST_LINES[kind] ?? MOST_OTHERS)) {
        const other = others.get(kind) ?? begun(remark, 0)
        others.set(kind, other)
        return count(other, remark)
      }
      kept.set(kind, soFar + 1)
      lines.set(key, begun(remark, 1))
      return remark
    },
    due: nowS => tell(nowS, line => nowS >= line.tellAtS),
    rest: nowS => tell(nowS, () => true),
    restart() {
      lines.clear()
      others.clear()
      kept.clear()
    },
  }
}

const counted = (n: number): string => n.toLocaleString('en-US')

const WORDS: Partial<Record<Remark['kind'], string>> = {
  garbled: 'unreadable lines',
  line: 'lines that hold no sample',
  held: 'lines that were not made clear',
}
