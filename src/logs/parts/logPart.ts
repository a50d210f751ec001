import type { LineGap } from '../lines/lineGap.ts'

/** One of several tables in a file: below one another, or side by side. */
export interface LogPart {
  /** The name that the file gives it, `null` where it gives none. */
  readonly title: string | null
  /** Lines of the file, from 1. */
  readonly firstLine: number
  readonly lastLine: number
  /** What names its columns and, in a row of their own, their units; `''` where nothing does. */
  readonly header: string
  /**
   * The lines that stand above all tables, then its own, verbatim; of a table beside others, its own cells of
   * each.
   */
  readonly text: string
  readonly gap: LineGap
  /** It stands beside the others, in columns of its own. */
  readonly isBeside: boolean
}
