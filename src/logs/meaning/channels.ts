import { printable } from '../../core/printable.ts'
import type { Channel, ChannelKind } from '../../core/recording.ts'
import type { Column } from '../table/sampleTable.ts'
import { mmIn, unitMeaning } from '../words/units.ts'
import { type ColumnView, unitWord } from './columnView.ts'

/** A column beside time and force as a channel; lengths are converted to mm in place. */
export function channelOf(view: ColumnView, rows: number): Channel {
  const { channel, factor } = channelMeaning(view)
  const values = view.column.values.subarray(0, rows)
  if (factor !== 1) for (let i = 0; i < rows; i++) values[i]! *= factor
  return { ...channel, values }
}

/** What such a column is, and what its numbers are to be multiplied by. */
export function channelMeaning(view: ColumnView): {
  readonly channel: Omit<Channel, 'values'>
  readonly factor: number
} {
  const { column, meaning } = view
  const word = unitWord(column) ?? meaning.unitText
  const mm = unitMeaning(word)?.of === 'length' ? mmIn(word) : null
  return {
    channel: {
      name: column.name === '' ? `column ${view.index + 1}` : printable(column.name, 100),
      kind: kindOf(view),
      unit: mm !== null ? 'mm' : printable(word, 20),
    },
    factor: mm ?? 1,
  }
}

function kindOf({ meaning }: ColumnView): ChannelKind {
  if (meaning.standing === 'set-point') return 'set-point'
  const { role } = meaning
  return role === 'extension' || role === 'travel' || role === 'temperature' ? role : 'other'
}

/** Keeps only some rows of each column, in place and in order. */
export function keepRows(columns: readonly Column[], kept: Uint32Array): void {
  for (const { values } of columns) {
    if (values.length === 0) continue
    for (let i = 0; i < kept.length; i++) values[i] = values[kept[i]!]!
  }
}
