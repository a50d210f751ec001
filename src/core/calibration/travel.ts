import { fine, type Outcome, wrong } from '../problem.ts'
import type { Recording } from '../recording.ts'

/** How the travel of a drive is to be had from a recording. */
export interface TravelFrom {
  /** Name of the channel. */
  readonly travel?: string | undefined
  readonly mmPerTurn?: number | undefined
  readonly mmPerSecond?: number | undefined
}

/** Travel in mm: a channel of lengths, a channel of turns, or the drive's speed by the clock. */
export function travelOf(
  { name, channels, timeS }: Pick<Recording, 'name' | 'channels' | 'timeS'>,
  { travel, mmPerTurn, mmPerSecond }: TravelFrom,
): Outcome<Float64Array> {
  const channel =
    travel === undefined
      ? (channels.find(c => c.kind === 'travel') ?? channels.find(c => c.kind === 'extension'))
      : channels.find(c => c.name === travel)
  if (channel?.unit === 'mm') return fine(channel.values)
  if (channel !== undefined && mmPerTurn !== undefined)
    return fine(channel.values.map(turns => turns * mmPerTurn))
  if (travel === undefined && mmPerSecond !== undefined) return fine(timeS.map(t => t * mmPerSecond))
  const names = channels.map(c => c.name).join(', ')
  if (travel !== undefined && channel === undefined)
    return wrong({
      where: name,
      what: `no channel is called “${travel.slice(0, 40)}”.`,
      cure: `The channels are: ${names || 'none'}.`,
    })
  return wrong({
    where: name,
    what:
      channel === undefined
        ? 'the log has no travel.'
        : `the channel ${channel.name} is in “${channel.unit}”, not in mm.`,
    cure: 'Give the mm per second of a drive that runs evenly, or the column of travel, with the mm per turn if it counts turns.',
    code: 'no-travel',
  })
}
