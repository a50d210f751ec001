import { STRETCH_WORDS } from '../core/reading/selvedge.ts'
import type { Stretch, StretchKind } from '../core/reading/states.ts'

const WEAVE: Readonly<Record<StretchKind, string>> = {
  rest: '·',
  loading: '─',
  hold: '/',
  unload: '\\',
  regrip: 'x',
  gap: ' ',
}

/** The selvedge as one line of text, `columns` wide: patterns in proportion to time, words where they fit. */
export function selvedgeLine(stretches: readonly Stretch[], columns: number): string {
  const first = stretches[0]
  const last = stretches.at(-1)
  if (!first || !last) return ''
  const left = `${first.fromS.toFixed(1)} s `
  const right = ` ${last.toS.toFixed(1)} s`
  const room = Math.max(stretches.length, columns - left.length - right.length)
  const cells = stretches.map(s => ({ ...s, width: 1 }))
  // Every stretch has a cell of its own; the others go by time.
  const spanS = last.toS - first.fromS
  let spare = room - cells.length
  const wanted = cells.map(c => ((c.toS - c.fromS) / spanS) * room)
  cells.forEach((cell, i) => {
    const more = Math.max(0, Math.min(spare, Math.round(wanted[i]!) - 1))
    cell.width += more
    spare -= more
  })
  return left + cells.map(cell => woven(cell.kind, cell.width)).join('') + right
}

function woven(kind: StretchKind, width: number): string {
  const word = STRETCH_WORDS[kind]
  const weave = WEAVE[kind]
  if (width < word.length + 4) return weave.repeat(width)
  const before = Math.floor((width - word.length - 2) / 2)
  return `${weave.repeat(before)} ${word} ${weave.repeat(width - word.length - 2 - before)}`
}
