import { spreadPlace } from './spread.ts'

/** As many rows of the longest run settle the layout as well as all of them. */
const KEPT_ROWS = 200
/** The first rows of the run are all kept: its header stands above one of them. */
const RUN_START = 4
/** So much longer than all other rows together the run stays, so that it weighs against them as before. */
const LONGER_BY = 2.1
/**
 * A line of figures and their marks only. Where words stand in it, each line may say something of its own.
 */
const FIGURES = /^[\d+\-.[ \t][\d+\-.,:;/|>[\] \t]*$/

interface Run {
  readonly from: number
  /** One past its last line. */
  readonly to: number
  readonly rows: number
}

/**
 * The lines of a log by which its layout is settled: of its longest run of mere figures only the first rows
 * and then every so many; all other lines are kept. Those left out are blank, so that every line keeps its
 * number.
 */
export function thinnedLines(lines: readonly string[]): readonly string[] {
  const { longest, otherRows } = figureRuns(lines)
  const step = Math.floor(longest.rows / Math.max(KEPT_ROWS, LONGER_BY * otherRows))
  if (step < 2) return lines
  const thinned = lines.slice()
  let row = 0
  let picked = 0
  for (let i = longest.from; i < longest.to; i++) {
    if (lines[i] === '') continue
    const isPicked = row === spreadPlace(picked, step)
    if (isPicked) picked++
    else if (row >= RUN_START) thinned[i] = ''
    row++
  }
  return thinned
}

/**
 * Blank lines part no run. A plain loop: it goes through some ten thousand lines before anything else is
 * done.
 */
function figureRuns(lines: readonly string[]): { longest: Run; otherRows: number } {
  let longestFrom = 0
  let longestTo = 0
  let most = 0
  let all = 0
  let from = 0
  let rows = 0
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!
    if (line === '') continue
    if (!FIGURES.test(line)) {
      rows = 0
      continue
    }
    if (rows === 0) from = i
    rows++
    all++
    if (rows > most) {
      most = rows
      longestFrom = from
      longestTo = i + 1
    }
  }
  return { longest: { from: longestFrom, to: longestTo, rows: most }, otherRows: all - most }
}
