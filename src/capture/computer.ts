import type { Header } from './journal/entries.ts'
import type { FileLayer } from './journal/files.ts'

/**
 * What the capture asks of the computer it runs on: a program's, or the little that a browser gives to a
 * page.
 */
export interface Computer {
  readonly files: FileLayer
  /** Who writes, for the head of each journal. */
  writer(): Required<Pick<Header, 'pid' | 'writer'>>
  /** Whether somebody writes this journal now. `ageMs`: since it was last written to. */
  isInUse(path: string, header: Header, ageMs: number): Promise<boolean>
  /** Memory that may still be used; `null` where the system does not tell. */
  freeMemoryBytes(): number | null
}
