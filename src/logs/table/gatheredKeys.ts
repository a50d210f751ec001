import { keyedLine } from '../lines/keyed.ts'
import { withoutResidue } from '../lines/split.ts'
import type { KeyedCell, KeyRows } from './keyRows.ts'

/** Puts rows together that a log writes one name and value a line: a row ends where a name comes again. */
export class GatheredKeys {
  private cells: KeyedCell[] = []
  private text = ''
  private line = 0

  constructor(private readonly rows: KeyRows) {}

  takeLine(given: string, line: number): void {
    const text = withoutResidue(given)
    const keyed = keyedLine(text)
    const pair = keyed?.lead === '' && keyed.pairs.length === 1 ? keyed.pairs[0] : undefined
    if (!pair) {
      if (text.trim() === '') return
      this.end()
      this.rows.takeLine(given, line)
      return
    }
    if (this.cells.some(([key]) => key === pair[0])) this.end()
    if (this.cells.length === 0) this.line = line
    this.cells.push(pair)
    this.text = this.text === '' ? text : `${this.text} ${text}`
  }

  /** Ends the row that is being put together. */
  end(): void {
    if (this.cells.length > 0) this.rows.takeCells(this.cells, this.text, this.line)
    this.cells = []
    this.text = ''
  }
}
