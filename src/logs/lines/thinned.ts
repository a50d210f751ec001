/** Rows kept of each run, where its header is looked for, and of the whole. */
const RUN_START = 4
const KEPT_ROWS = 200
/** A line of figures and their marks only. Where words stand in it, each line may say something of its own. */
const FIGURES = /^[\d+\-.[ \t][\d+\-.,:;/|>[\] \t]*$/

/**
 * The lines of a log by which its layout is settled: lines with words are all kept, of long runs of mere figures only
 * the first rows and then every so many, whose number keeps its proportion between one run and another. The others
 * are left blank, so that every line keeps its number.
 */
export function thinnedLines(lines: readonly string[]): readonly string[] {
  const isFigures = lines.map(line => FIGURES.test(line))
  const count = isFigures.reduce((sum, is) => sum + (is ? 1 : 0), 0)
  const step = Math.ceil(count / KEPT_ROWS)
  if (step < 3) return lines
  let inRun = 0
  let seen = 0
  return lines.map((line, i) => {
    if (line === '') return line
    if (!isFigures[i]) {
      inRun = 0
      return line
    }
    return inRun++ < RUN_START || seen++ % step === 0 ? line : ''
  })
}
