import { printable } from '../../core/printable.ts'
import type { Layout } from '../lines/layout.ts'

const DELIMITER_NAMES: Readonly<Record<string, string>> = {
  '\t': 'tab-separated',
  ';': 'semicolon-separated',
  ',': 'comma-separated',
  '|': 'bar-separated',
  ' ': 'blank-separated',
  '': 'one value a line',
}

export interface UnderstoodParts {
  readonly layout: Layout
  readonly encoding: string
  readonly time: string
  readonly force: string
  readonly unit: string
  readonly tension: string
  readonly samples: number
  readonly rateHz: number
  readonly segments: number
  readonly more: readonly string[]
}

/** The one line that tells a person what was understood of a log. */
export function understoodText(parts: UnderstoodParts): string {
  const { layout } = parts
  const pieces = [
    shapeOf(layout),
    `time ${parts.time}`,
    `force ${parts.force}, ${parts.unit}`,
    `tension ${parts.tension}`,
    layout.decimal === 'either' ? 'decimal point and comma' : `decimal ${layout.decimal}`,
    parts.encoding,
    ...parts.more,
    `${parts.samples} samples at ${Number(parts.rateHz.toPrecision(3))} a second`,
    ...(parts.segments > 1 ? [`${parts.segments} pieces, for the clock starts again`] : []),
  ]
  return pieces
    .filter(piece => piece !== '')
    .map(piece => printable(piece, 300))
    .join('; ')
}

function shapeOf(layout: Layout): string {
  if (layout.kind === 'keys') return 'key=value lines'
  if (layout.kind === 'json-lines') return 'JSON Lines'
  if (layout.kind === 'json') return 'a JSON document'
  const columns = layout.forms.length
  const from = layout.header ? `header in line ${layout.header.line}` : 'no header'
  const shape = DELIMITER_NAMES[layout.delimiter] ?? 'separated'
  return columns > 1 ? `${shape}, ${columns} columns, ${from}` : `one column, ${from}`
}
