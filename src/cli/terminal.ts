import type { Io } from './io.ts'

export type Stroke = 'strong' | 'pencil' | 'accent' | 'warning'

const CODES: Readonly<Record<Stroke, readonly [number, number]>> = {
  strong: [1, 22],
  pencil: [2, 22],
  accent: [34, 39],
  warning: [33, 39],
}

/**
 * Colour only where a person looks on and has not declined it: NO_COLOR, set to anything but nothing, switches it
 * off; FORCE_COLOR switches it on for a pipe.
 */
export const wantsColour = ({ env, outIsTerminal }: Pick<Io, 'env' | 'outIsTerminal'>): boolean => {
  if (env.NO_COLOR !== undefined && env.NO_COLOR !== '') return false
  if (env.FORCE_COLOR !== undefined && env.FORCE_COLOR !== '' && env.FORCE_COLOR !== '0') return true
  return outIsTerminal && env.TERM !== 'dumb'
}

/** `pen(io)('strong', 'text')`. Meaning never rests on the colour alone. */
export function pen(io: Pick<Io, 'env' | 'outIsTerminal'>): (stroke: Stroke, text: string) => string {
  if (!wantsColour(io)) return (_stroke, text) => text
  return (stroke, text) => {
    const [on, off] = CODES[stroke]
    return `\u001b[${on}m${text}\u001b[${off}m`
  }
}

/** Text broken at spaces to `columns`, later lines set in by `indent`. */
export function wrapped(text: string, columns: number, indent = ''): string {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    const width = lines.length === 0 ? columns : columns - indent.length
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  lines.push(line)
  return lines.join(`\n${indent}`)
}
