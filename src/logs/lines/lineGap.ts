import type { HeaderLine } from './headerLine.ts'
import type { Layout } from './layout.ts'

/**
 * Where lines of a file were left out of a cut, so that what is told of the rest names the lines of the file.
 */
export interface LineGap {
  /** Lines before the gap. */
  readonly after: number
  /** Lines left out. */
  readonly count: number
}

export const NO_GAP: LineGap = { after: 0, count: 0 }

/** The line of the file for a line of the cut, both from 1. */
export const lineIn = ({ after, count }: LineGap, line: number): number =>
  line > after ? line + count : line

/** A layout that was understood from a cut, by the lines of the file. */
export function layoutIn(gap: LineGap, layout: Layout): Layout {
  if (gap.count === 0) return layout
  const firstLine = lineIn(gap, layout.firstLine)
  if (layout.kind !== 'cells') return { ...layout, firstLine }
  const { header, above } = layout
  return {
    ...layout,
    firstLine,
    header: header && headerIn(gap, header),
    above: above && {
      ...above,
      firstLine: lineIn(gap, above.firstLine),
      lastLine: lineIn(gap, above.lastLine),
      otherRecord: above.otherRecord && headerIn(gap, above.otherRecord),
    },
  }
}

const headerIn = (gap: LineGap, header: HeaderLine): HeaderLine => ({
  ...header,
  line: lineIn(gap, header.line),
  lastLine: lineIn(gap, header.lastLine),
  ...(header.otherUnits
    ? { otherUnits: { ...header.otherUnits, line: lineIn(gap, header.otherUnits.line) } }
    : {}),
})
