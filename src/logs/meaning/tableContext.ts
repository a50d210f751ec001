import type { Encoding } from '../lines/encoding.ts'
import type { Layout } from '../lines/layout.ts'
import type { LogOptions } from '../options.ts'

/** What is known of a log beside its numbers. */
export interface TableContext {
  readonly name: string
  readonly options: LogOptions
  readonly layout: Layout
  readonly encoding: Encoding
  /** Lines that may tell a unit or a rate: preamble, header, comments. */
  readonly texts: readonly { line: number; text: string }[]
}
