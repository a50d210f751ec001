import type { Recording } from '../../core/recording.ts'
import { type LogForceUnit, N_PER, ownScaleOf } from '../../core/units/force.ts'

/** A column as it is written: values times `factor` stand under `name`. */
export interface WrittenColumn {
  readonly name: string
  readonly values: Float64Array
  readonly divisor: number
}

/** Columns of a recording: time_s, force in newton (or raw counts, or the unit asked for), and the channels. */
export function writtenColumns(recording: Recording, unit?: LogForceUnit): WrittenColumn[] {
  const own = ownScaleOf(recording.forceUnit)
  const shown = own === 'counts' ? 'counts' : (unit ?? 'N')
  // Without a unit in its name it is read back as it is: a force whose unit is not told.
  const forceName = own === 'log units' ? 'force' : `force_${shown}`
  const taken = new Set(['time_s', forceName])
  const channels = recording.channels.map(({ name, unit: channelUnit, values }) => {
    let title = titleOf(name, channelUnit)
    while (taken.has(title)) title += '_2'
    taken.add(title)
    return { name: title, values, divisor: 1 }
  })
  return [
    { name: 'time_s', values: recording.timeS, divisor: 1 },
    {
      name: forceName,
      values: recording.forceN,
      divisor: own !== null || shown === 'counts' ? 1 : N_PER[shown],
    },
    ...channels,
  ]
}

const OTHER_LENGTH = /\s*[[({<][^\])}>]*[\])}>]|[_\s/](?:in|inch|inches|cm|m|mm|um|µm|mils?)$/gi

/** The name with its unit. A length was converted when it was read, so a unit in its old name would be false. */
function titleOf(name: string, unit: string): string {
  if (unit === 'mm') return `${name.replace(OTHER_LENGTH, '')}_mm`
  return unit === '' || name.toLowerCase().includes(unit.toLowerCase()) ? name : `${name}_${unit}`
}
