import type { Look } from '../figure/look.ts'
import type { Shape } from '../figure/shape.ts'
import type { PublishedPhoto } from '../study/study.ts'

/** A piece of a report as plain data, so that a page, a PDF and Markdown say the same. */
export type Block =
  | TextBlock
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly ordered?: boolean }
  | TableBlock
  | FoldedBlock
  | { readonly kind: 'ledger'; readonly rows: readonly LedgerRow[]; readonly under: readonly string[] }
  | FigureBlock
  | { readonly kind: 'photo'; readonly photo: PublishedPhoto }
  /** A heading within a section; `anchor` is unique in the report. */
  | { readonly kind: 'heading'; readonly text: string; readonly anchor: string }

export interface TextBlock {
  readonly kind: 'text'
  readonly text: string
  /** `lead` is the answer, `pencil` a remark, `warning` what to take note of. */
  readonly tone?: 'lead' | 'pencil' | 'warning'
}

/** What few readers need: one line until it is pressed; on paper it stands open. */
export interface FoldedBlock {
  readonly kind: 'folded'
  readonly heading: string
  readonly blocks: readonly (TextBlock | TableBlock)[]
}

export interface TableBlock {
  readonly kind: 'table'
  readonly caption: string
  /** The first column names the row, the others hold figures. */
  readonly head: readonly string[]
  readonly rows: readonly (readonly string[])[]
}

export interface LedgerRow {
  readonly amount: string
  readonly text: string
  /** The sum that the other rows make. */
  readonly total?: true
}

/** A figure, drawn when it is known where it will stand. */
export interface FigureBlock {
  readonly kind: 'figure'
  /** Unique in the report; a file of it is named so. */
  readonly name: string
  readonly caption: string
  readonly draw: (frame: FigureFrame) => string
  /** The curve in it, for a page that lets one look closer; `null` where there is none. */
  readonly curve: CurveData | null
}

export interface FigureFrame {
  readonly look: Look
  readonly shape: Shape
  /** What its ids begin with. */
  readonly prefix: string
}

/** Force over time in the unit shown; `null` breaks the line. */
export interface CurveData {
  readonly unit: string
  /** Newton in one of the unit. */
  readonly perN: number
  /** Decimals that a reading is worth. */
  readonly decimals: number
  readonly timeS: readonly number[]
  readonly force: readonly (number | null)[]
  readonly raw: readonly (number | null)[]
}

export interface Section {
  /** Unique in the report: its anchor. */
  readonly name: string
  readonly heading: string
  readonly blocks: readonly Block[]
}

export interface Report {
  readonly title: string
  readonly question: string
  /** One line: what was pulled, and when this was put together. */
  readonly about: string
  readonly sections: readonly Section[]
}
