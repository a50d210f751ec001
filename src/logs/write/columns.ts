import type { Recording, RecordingHead } from '../../core/recording.ts'
import { type LogForceUnit, N_PER, ownScaleOf } from '../../core/units/force.ts'

/** A column as it is written: values times `factor` stand under `name`. */
export interface WrittenColumn {
  readonly name: string
  readonly values: Float64Array
  readonly divisor: number
}

/** What a column is, without its values. */
export type ColumnHead = Omit<WrittenColumn, 'values'>

/**
 * Columns of a recording: time_s, force in newton (or raw counts, or the unit asked for), and the channels.
 */
export function columnHeads(
  { forceUnit, channels }: Pick<RecordingHead, 'forceUnit' | 'channels'>,
  unit?: LogForceUnit,
): ColumnHead[] {
  const own = ownScaleOf(forceUnit)
  const shown = own === 'counts' ? 'counts' : (unit ?? 'N')
  // Without a unit in its name it is read back as it is: a force whose unit is not told.
  const forceName = own === 'log units' ? 'force' : `force_${shown}`
  const taken = new Set(['time_s', forceName])
  const others = channels.map(({ name, unit: channelUnit }) => {
    let title = titleOf(name, channelUnit)
    while (taken.has(title)) title += '_2'
    taken.add(title)
    return { name: title, divisor: 1 }
  })
  return [
    { name: 'time_s', divisor: 1 },
    { name: forceName, divisor: own !== null || shown === 'counts' ? 1 : N_PER[shown] },
    ...others,
  ]
}

/** The same with their values. */
export function writtenColumns(recording: Recording, unit?: LogForceUnit): WrittenColumn[] {
  const series = seriesOf(recording)
  return columnHeads(recording, unit).map((head, index) => ({ ...head, values: series[index]! }))
}

/** The values of the columns, of a whole recording or a block of one. */
export const seriesOf = ({
  timeS,
  forceN,
  channels,
}: {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly channels: readonly (Float64Array | { readonly values: Float64Array })[]
}): readonly Float64Array[] => [
  timeS,
  forceN,
  ...channels.map(channel => (channel instanceof Float64Array ? channel : channel.values)),
]

const OTHER_LENGTH = /\s*[[({<][^\])}>]*[\])}>]|[_\s/](?:in|inch|inches|cm|m|mm|um|µm|mils?)$/gi

/**
 * The name with its unit. A length was converted when it was read, so a unit in its old name would be false.
 */
function titleOf(name: string, unit: string): string {
  if (unit === 'mm') return `${name.replace(OTHER_LENGTH, '')}_mm`
  return unit === '' || name.toLowerCase().includes(unit.toLowerCase()) ? name : `${name}_${unit}`
}
